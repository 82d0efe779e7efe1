package web

import (
	"net/http"
	"strings"
)

// policy is what a page of ours may do: run its own scripts and the core (WebAssembly), show its own pictures, and speak to
// its own server; nothing else, and nobody may frame it.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; " +
	"font-src 'self'; connect-src 'self' %sockets%; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; " +
	"frame-ancestors 'none'"

// features that the app may use are left out; what it never asks for is taken from it.
const features = "geolocation=(), microphone=(), payment=(), usb=(), serial=(), midi=(), magnetometer=(), " +
	"display-capture=()"

// Secure sets the headers that every answer carries. hosted says whether the name in a request is one of the server's, as it
// is repeated in the policy.
func Secure(next http.Handler, hosted func(name string) bool) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", strings.Replace(policy, "%sockets%", sockets(r, hosted), 1))
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Permissions-Policy", features)
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("X-Frame-Options", "DENY")
		if r.TLS != nil {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		next.ServeHTTP(w, r)
	})
}

// sockets names the server's own websockets: older browsers do not count them as 'self'.
func sockets(r *http.Request, hosted func(string) bool) string {
	if !hosted(r.Host) {
		return ""
	}
	return "ws://" + r.Host + " wss://" + r.Host
}
