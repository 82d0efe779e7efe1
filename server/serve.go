package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"sync/atomic"
	"time"

	"hushcup/server/socket"
	"hushcup/server/store"
	"hushcup/server/web"
	"hushcup/sync/relay"
)

// drainTime is how long connections may take to say goodbye.
const drainTime = 10 * time.Second

// serve is the composition root: it puts the parts together, says where it is, and runs until ctx ends.
func (p *program) serve(ctx context.Context, s *settings, log *slog.Logger) error {
	if _, err := fs.Stat(p.dist, "index.html"); err != nil {
		return errors.New("the app is not built: run `go generate ./pwa` first, and then this again")
	}
	app, err := web.NewApp(p.dist)
	if err != nil {
		return err
	}
	listeners, err := listen(s, log) // before the database, so that a port in use changes nothing
	if err != nil {
		return err
	}
	defer listeners.close()
	books, err := openStore(ctx, s)
	if err != nil {
		return err
	}
	defer books.Close()

	h := newHouse(s, log, app, books, listeners)
	listeners.announce(p.stdout, h.hosts)
	if s.demo {
		if err := addDemo(ctx, s, books, listeners, p.stdout); err != nil {
			return err
		}
	}
	return h.run(ctx, listeners)
}

// house is a running server.
type house struct {
	settings *settings
	log      *slog.Logger
	books    *store.Store
	hosts    relay.Hosts
	relay    *relay.Relay
	sockets  *socket.Server
	metrics  *web.Metrics
	app      *web.App
	advice   advice
	down     advice
	draining atomic.Bool
}

func newHouse(s *settings, log *slog.Logger, app *web.App, books *store.Store, listeners *listeners) *house {
	h := &house{settings: s, log: log, books: books, app: app, hosts: listeners.hosts(s)}
	cache := relay.NewBooks(relay.DefaultBooks, relay.DefaultOps)
	h.metrics = web.NewMetrics(map[string]func() float64{
		"connections":     func() float64 { return float64(h.sockets.Open()) },
		"books_in_memory": func() float64 { return float64(cache.Len()) },
	})
	h.relay = relay.New(relay.Config{Store: books, Hosts: h.hosts, Limits: s.relayLimits, Books: cache, Note: h.note})
	h.sockets = socket.New(socket.Config{Relay: h.relay, Store: books, Log: log, Connections: s.connections,
		Address: h.address, Trusted: h.trusted})
	return h
}

// note counts, and logs what a host should look at. Notes name no book, device or body.
func (h *house) note(n relay.Note) {
	h.metrics.Note(n)
	switch {
	case n.What == "fault":
		h.log.Error("fault", "error", n.Err)
	case n.What == "down" && h.down.due(time.Now()): // each phone that tries again is one more
		h.log.Error("the database does not take or give what phones ask for", "error", n.Err)
	}
}

// address is what book creation is counted by. Behind a proxy it is what the nearest one wrote.
func (h *house) address(r *http.Request) string {
	if h.settings.proxy {
		// Some add a line of their own rather than to the line that is there: what stands before is the client's word.
		list := strings.Split(strings.Join(r.Header.Values("X-Forwarded-For"), ","), ",")
		if last := strings.TrimSpace(list[len(list)-1]); last != "" {
			return network(withoutPort(last))
		}
	}
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return network(host)
}

// withoutPort takes off the port that some proxies write, too: each connection has another.
func withoutPort(address string) string {
	if host, _, err := net.SplitHostPort(address); err == nil {
		return host
	}
	return strings.Trim(address, "[]")
}

// network is a whole /64 of IPv6, which one home or one rented machine has to itself.
func network(host string) string {
	address, err := netip.ParseAddr(host)
	if err != nil || !address.Is6() || address.Is4In6() {
		return host
	}
	prefix, err := address.WithZone("").Prefix(64)
	if err != nil {
		return host
	}
	return prefix.String()
}

func (h *house) ready(ctx context.Context) error {
	if h.draining.Load() {
		return errors.New("draining")
	}
	if err := h.books.Ready(ctx); err != nil {
		return errors.New("the database does not answer")
	}
	return nil
}

// routes of the address that phones use.
func (h *house) routes() http.Handler {
	mux := http.NewServeMux()
	mux.Handle(socket.Path, h.dialled(h.sockets))
	mux.HandleFunc("GET "+tokenPath, h.takeToken)
	mux.HandleFunc("/healthz", web.Healthy)
	mux.Handle("/readyz", web.Ready(h.ready))
	if h.settings.metrics == "" && !h.settings.proxy { // what comes through a proxy comes from this machine, too
		mux.Handle("/metrics", web.Loopback(h.metrics))
	} else {
		mux.HandleFunc("/metrics", http.NotFound)
	}
	mux.Handle("/", h.app)
	return web.Secure(mux, h.hosts.Has)
}

// run serves until ctx ends, and drains.
func (h *house) run(ctx context.Context, l *listeners) error {
	background, stop := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() { h.sockets.Run(background); close(done) }()
	heard := make(chan error, 1)
	go func() { heard <- h.books.Listen(background, h.settings.database, h.hear) }()
	defer func() { stop(); <-done; <-heard }()

	servers, failed := l.serve(h)
	h.log.Info("ready", "listen", l.plain.Addr().String(), "database", h.books.Kind())
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	return h.drain(servers)
}

// hear passes on what another server tells.
func (h *house) hear(n store.News) {
	switch {
	case n.Doubt:
		h.relay.Doubt()
	case n.Poll:
		h.sockets.Poll()
	default:
		h.sockets.Heard(n.Book)
	}
}

// drain lets a load balancer see that this server is going, says goodbye to phones, and ends what is left.
func (h *house) drain(servers []*http.Server) error {
	h.draining.Store(true)
	h.log.Info("draining", "connections", h.sockets.Open())
	ctx, cancel := context.WithTimeout(context.Background(), drainTime)
	defer cancel()
	h.sockets.Drain(ctx)
	var err error
	for _, server := range servers {
		if stopped := server.Shutdown(ctx); stopped != nil {
			err = fmt.Errorf("requests were still running: %w", errors.Join(stopped, server.Close()))
		}
	}
	h.log.Info("stopped")
	return err
}
