package main

import (
	"crypto/subtle"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"log"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"os"
	"strings"
	"syscall"
	"time"

	"golang.org/x/crypto/acme"
	"golang.org/x/crypto/acme/autocert"

	"hushcup/server/web"
	"hushcup/sync/relay"
)

// listeners are the addresses that a server holds.
type listeners struct {
	plain   net.Listener
	secure  net.Listener // nil without -tls-domain
	metrics net.Listener // nil without -metrics
	certs   *autocert.Manager
}

func listen(s *settings, log *slog.Logger) (l *listeners, err error) {
	l = &listeners{}
	if l.plain, err = listenOn("-listen", s.listen); err != nil {
		return nil, err
	}
	if s.metrics != "" {
		if l.metrics, err = listenOn("-metrics", s.metrics); err != nil {
			l.close()
			return nil, err
		}
	}
	if s.tlsDomain == "" {
		return l, nil
	}
	if l.secure, err = listenOn("-tls-listen", s.tlsListen); err != nil {
		l.close()
		return nil, err
	}
	l.certs = &autocert.Manager{Prompt: autocert.AcceptTOS, HostPolicy: autocert.HostWhitelist(s.tlsDomain), Cache: autocert.DirCache(s.tlsCache)}
	if s.tlsDirectory != "" {
		l.certs.Client = &acme.Client{DirectoryURL: s.tlsDirectory}
	}
	config := l.certs.TLSConfig()
	config.GetCertificate = l.certificate(s.tlsDomain, log)
	config.MinVersion = tls.VersionTLS12
	config.NextProtos = []string{"http/1.1", acme.ALPNProto} // websockets need HTTP/1.1
	l.secure = tls.NewListener(l.secure, config)
	return l, nil
}

// certificate says in the log why there is none. Asking for another name than the server's is a stranger's slip, and stays
// unsaid.
func (l *listeners) certificate(domain string, log *slog.Logger) func(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	return func(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
		found, err := l.certs.GetCertificate(hello)
		if err != nil && strings.EqualFold(hello.ServerName, domain) {
			log.Error("no certificate", "domain", domain, "err", err)
		}
		return found, err
	}
}

func listenOn(flag, address string) (net.Listener, error) {
	l, err := net.Listen("tcp", address)
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, fmt.Errorf("%s: %q is in use by another program", flag, address)
	case errors.Is(err, os.ErrPermission):
		return nil, fmt.Errorf("%s: this account may not listen on %q", flag, address)
	case err != nil:
		return nil, fmt.Errorf("%s: %w", flag, err)
	}
	return l, nil
}

func (l *listeners) close() {
	for _, one := range []net.Listener{l.plain, l.secure, l.metrics} {
		if one != nil {
			one.Close()
		}
	}
}

// serve starts an HTTP server on each listener; a failure of any comes through the channel.
func (l *listeners) serve(h *house) (servers []*http.Server, failed <-chan error) {
	failures := make(chan error, 3)
	start := func(on net.Listener, handler http.Handler) {
		server := &http.Server{Handler: handler, ReadHeaderTimeout: 10 * time.Second, IdleTimeout: time.Minute,
			MaxHeaderBytes: 16 << 10, ErrorLog: log.New(io.Discard, "", 0)} // it would log addresses of whoever mistypes
		servers = append(servers, server)
		go func() {
			if err := server.Serve(on); !errors.Is(err, http.ErrServerClosed) {
				failures <- err
			}
		}()
	}
	routes := h.routes()
	if l.secure != nil {
		start(l.secure, routes)
		routes = l.leadToSecure(h)
	}
	start(l.plain, routes)
	if l.metrics != nil {
		mux := http.NewServeMux()
		mux.Handle("/metrics", h.metrics)
		start(l.metrics, mux)
	}
	return servers, failures
}

// leadToSecure answers on the plain address when there is a secure one: a host's health checks, the certificate's challenge,
// and for everything else the way to https.
func (l *listeners) leadToSecure(h *house) http.Handler {
	full := h.routes()
	return l.certs.HTTPHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/healthz", "/readyz", "/metrics":
			full.ServeHTTP(w, r)
		default:
			http.Redirect(w, r, "https://"+h.settings.tlsDomain+r.URL.RequestURI(), http.StatusPermanentRedirect)
		}
	}))
}

// hosts are the names that phones may dial.
func (l *listeners) hosts(s *settings) relay.Hosts {
	if s.hosts != "" {
		names := splitNames(s.hosts)
		if s.tlsDomain != "" {
			names = append(names, s.tlsDomain)
		}
		return relay.NewHosts(names...)
	}
	if s.tlsDomain != "" {
		return relay.NewHosts(s.tlsDomain)
	}
	return relay.NewHosts(l.addresses()...)
}

// addresses are the ways to reach the plain listener, with the port, this machine first.
func (l *listeners) addresses() []string {
	at := netip.MustParseAddrPort(l.plain.Addr().String())
	port := fmt.Sprint(at.Port())
	if !at.Addr().IsUnspecified() {
		if at.Addr().IsLoopback() {
			return []string{net.JoinHostPort(at.Addr().String(), port), net.JoinHostPort("localhost", port)}
		}
		return []string{net.JoinHostPort(at.Addr().String(), port)}
	}
	list := []string{net.JoinHostPort("localhost", port), net.JoinHostPort("127.0.0.1", port), net.JoinHostPort("::1", port)}
	if name, err := os.Hostname(); err == nil {
		list = append(list, net.JoinHostPort(name, port), net.JoinHostPort(name+".local", port))
	}
	own, _ := net.InterfaceAddrs()
	for _, address := range own {
		prefix, err := netip.ParsePrefix(address.String())
		if err == nil && !prefix.Addr().IsLoopback() && !prefix.Addr().IsLinkLocalUnicast() {
			list = append(list, net.JoinHostPort(prefix.Addr().String(), port))
		}
	}
	return list
}

// announce prints the addresses and which of them a phone can use offline.
func (l *listeners) announce(w io.Writer, hosts relay.Hosts) {
	if l.certs != nil {
		fmt.Fprintln(w, "Hushcup serves https on", l.secure.Addr(), "and leads there from", l.plain.Addr())
		return
	}
	fmt.Fprintln(w, "Hushcup is here:")
	for _, address := range l.addresses() {
		if !hosts.Has(address) || strings.HasPrefix(address, "[::1]") {
			continue
		}
		note := "not secure: a browser keeps no app from here; see -tls-domain"
		if web.IsLoopback(address) {
			note = "secure: works offline too"
		}
		fmt.Fprintf(w, "  http://%-28s %s\n", address, note)
	}
}

func sameText(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }
