package main

import (
	"encoding/base64"
	"net/http"

	"hushcup/server/socket"
)

// With -token, new books are for the host's own people: whoever has once opened tokenPath with the host's word is known again by
// a cookie, which goes with no request but the websocket's.
const (
	tokenPath   = "/token"
	tokenCookie = "hushcup-token"
	tokenAge    = 400 * 24 * 60 * 60 // s; browsers keep none for longer
)

// takeToken answers a phone that opens tokenPath?token=WORD, and leads it to the app.
func (h *house) takeToken(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Cache-Control", "no-store")
	if h.settings.token == "" {
		http.Error(w, "This server asks for no word: anyone may begin a club.", http.StatusNotFound)
		return
	}
	if !sameText(r.URL.Query().Get("token"), h.settings.token) {
		http.Error(w, "This is not the word that this server asks for. Ask who runs it.", http.StatusForbidden)
		return
	}
	secure := r.TLS != nil || h.settings.proxy && r.Header.Get("X-Forwarded-Proto") == "https"
	http.SetCookie(w, &http.Cookie{Name: tokenCookie, Value: base64.RawURLEncoding.EncodeToString([]byte(h.settings.token)), Path: socket.Path,
		MaxAge: tokenAge, HttpOnly: true, Secure: secure, SameSite: http.SameSiteStrictMode})
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

// trusted says whether a connection showed the host's word: in its address, or as the cookie.
func (h *house) trusted(r *http.Request) bool {
	if h.settings.token == "" {
		return false
	}
	if sameText(r.URL.Query().Get("token"), h.settings.token) {
		return true
	}
	cookie, err := r.Cookie(tokenCookie)
	if err != nil {
		return false
	}
	word, err := base64.RawURLEncoding.DecodeString(cookie.Value)
	return err == nil && sameText(string(word), h.settings.token)
}
