package web

import (
	"context"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"time"
)

// readyTime bounds the question to the database.
const readyTime = 3 * time.Second

// Healthy answers as long as the process lives.
func Healthy(w http.ResponseWriter, _ *http.Request) {
	plain(w, http.StatusOK, "ok\n")
}

// Ready answers 200 while the server takes work: check says what is wrong, nil for nothing.
func Ready(check func(context.Context) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		ctx, cancel := context.WithTimeout(r.Context(), readyTime)
		defer cancel()
		if err := check(ctx); err != nil {
			plain(w, http.StatusServiceUnavailable, "not ready: "+err.Error()+"\n")
			return
		}
		plain(w, http.StatusOK, "ready\n")
	}
}

func plain(w http.ResponseWriter, status int, text string) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(text))
}

// Loopback lets only this machine in, by a name that only this machine has, and nothing that a proxy passed on.
func Loopback(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !fromLoopback(r) {
			http.Error(w, "there is nothing here", http.StatusNotFound)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func fromLoopback(r *http.Request) bool {
	if r.Header.Get("X-Forwarded-For") != "" || r.Header.Get("Forwarded") != "" {
		return false
	}
	return IsLoopback(r.RemoteAddr) && IsLoopback(r.Host)
}

// IsLoopback reads an address or name, with or without a port.
func IsLoopback(address string) bool {
	if host, _, err := net.SplitHostPort(address); err == nil {
		address = host
	}
	ip, err := netip.ParseAddr(strings.Trim(address, "[]"))
	return address == "localhost" || err == nil && ip.IsLoopback()
}
