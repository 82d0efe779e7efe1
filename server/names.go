package main

import (
	"fmt"
	"net/http"
	"net/netip"
	"net/url"
	"strings"
	"sync/atomic"
	"time"

	"github.com/gorilla/websocket"
)

// splitNames reads names with commas between.
func splitNames(list string) []string {
	return strings.FieldsFunc(list, func(r rune) bool { return r == ',' || r == ' ' })
}

// checkNames finds the slips after which a server runs, and no phone gets a connection.
func (s *settings) checkNames() error {
	for _, name := range splitNames(s.hosts) {
		if strings.ContainsAny(name, "/?@*") {
			return fmt.Errorf("-host: %q is not a name such as coffee.example.org or 127.0.0.1:8080", name)
		}
	}
	if s.tlsDomain != "" && !isDomain(s.tlsDomain) {
		return fmt.Errorf("-tls-domain: %q is not one name such as coffee.example.org", s.tlsDomain)
	}
	if s.proxy && s.hosts == "" && s.tlsDomain == "" {
		return fmt.Errorf("-proxy: say with -host by which name phones dial the proxy")
	}
	return nil
}

// isDomain says whether a certificate can be had for a name.
func isDomain(name string) bool {
	_, err := netip.ParseAddr(name)
	return err != nil && strings.Contains(strings.Trim(name, "."), ".") && !strings.ContainsAny(name, "/:,?@* ")
}

// advice is given in the log at most once in a while, so that strangers cannot fill it.
type advice struct{ last atomic.Int64 }

const adviceTime = time.Minute

func (a *advice) due(now time.Time) bool {
	last := a.last.Load()
	return now.UnixMilli()-last >= adviceTime.Milliseconds() && a.last.CompareAndSwap(last, now.UnixMilli())
}

// dialled passes connections on, and says what a host has most likely forgotten when none can come of one: all that a phone
// could say is that the server does not answer.
func (h *house) dialled(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if wrong := h.forgotten(r); wrong != "" && h.advice.due(time.Now()) {
			h.log.Warn(wrong, "page", short(r.Header.Get("Origin")), "name", short(r.Host))
		}
		next.ServeHTTP(w, r)
	})
}

func (h *house) forgotten(r *http.Request) string {
	page, err := url.Parse(r.Header.Get("Origin"))
	switch {
	case !websocket.IsWebSocketUpgrade(r):
		if r.Header.Get("Sec-WebSocket-Key") == "" {
			return "" // somebody who looks around
		}
		return "no connection: the proxy has to pass on Upgrade and Connection"
	case err == nil && page.Host != "" && !strings.EqualFold(page.Host, r.Host):
		return "no connection: the page is of another name; a proxy has to pass on Host"
	case !h.hosts.Has(r.Host):
		return "no connection: phones dial a name that is not in -host"
	}
	return ""
}

func short(text string) string { return text[:min(len(text), 80)] }
