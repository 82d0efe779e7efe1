package store

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"strings"
	"sync"
	"time"

	"github.com/jmoiron/sqlx"
	"github.com/lib/pq"

	"hushcup/sync/oplog"
)

// channel is where servers tell each other which books moved. A payload is "server book" in hex and holds no content.
const channel = "hushcup"

// gather is how long a notification waits for others to go with it.
const gather = 2 * time.Millisecond

// notifier tells other servers of commits, from transactions of its own.
type notifier struct {
	db     *sqlx.DB
	server string // so that a server does not wake itself

	mu      sync.Mutex
	waiting map[oplog.BookID]bool
	wake    chan struct{}
	once    sync.Once
	stop    chan struct{}
	stopped chan struct{}
}

func newNotifier(db *sqlx.DB) *notifier {
	var id [8]byte
	rand.Read(id[:]) // does not fail
	n := &notifier{db: db, server: hex.EncodeToString(id[:]), waiting: map[oplog.BookID]bool{}, wake: make(chan struct{}, 1),
		stop: make(chan struct{}), stopped: make(chan struct{})}
	go n.run()
	return n
}

func (n *notifier) changed(book oplog.BookID) {
	n.mu.Lock()
	n.waiting[book] = true
	n.mu.Unlock()
	select {
	case n.wake <- struct{}{}:
	default:
	}
}

func (n *notifier) close() {
	n.once.Do(func() { close(n.stop) })
	<-n.stopped
}

func (n *notifier) run() {
	defer close(n.stopped)
	for {
		select {
		case <-n.wake:
			time.Sleep(gather)
			n.send()
		case <-n.stop:
			n.send()
			return
		}
	}
}

// send gives up silently when the database is gone: a notification is a hint, and the slow poll finds what it told.
func (n *notifier) send() {
	n.mu.Lock()
	books := n.waiting
	n.waiting = map[oplog.BookID]bool{}
	n.mu.Unlock()
	if len(books) == 0 {
		return
	}
	payloads := make([]string, 0, len(books))
	for book := range books {
		payloads = append(payloads, n.server+" "+book.String())
	}
	ctx, cancel := context.WithTimeout(context.Background(), callTimeout)
	defer cancel()
	_, _ = n.db.ExecContext(ctx, "SELECT pg_notify($1, payload) FROM unnest(CAST($2 AS text[])) AS payload", channel, pq.Array(payloads))
}

// News is what a Listener hears.
type News struct {
	Book  oplog.BookID
	Doubt bool // the connection broke: something may have been missed, and the database may be another
	Poll  bool // the connection stands (again): look at the heads
}

// Listen calls hear for every book that another server wrote to, until the context ends. With SQLite it hears nothing, as
// there the slow poll is enough. hear must not block for long.
func (s *Store) Listen(ctx context.Context, source string, hear func(News)) error {
	if s.notify == nil {
		<-ctx.Done()
		return nil
	}
	source, err := withDefaults(source)
	if err != nil {
		return err
	}
	listener := pq.NewListener(source, 100*time.Millisecond, 10*time.Second, func(event pq.ListenerEventType, _ error) {
		switch event {
		case pq.ListenerEventConnected, pq.ListenerEventReconnected:
			hear(News{Poll: true})
		case pq.ListenerEventDisconnected:
			hear(News{Doubt: true})
		}
	})
	defer listener.Close()
	if err := listener.Listen(channel); err != nil {
		return err
	}
	return s.hearAll(ctx, listener, hear)
}

func (s *Store) hearAll(ctx context.Context, listener *pq.Listener, hear func(News)) error {
	ping := time.NewTicker(30 * time.Second) // a connection that died without a word is found by it
	defer ping.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case n := <-listener.Notify:
			if book, ok := s.notify.parse(n); ok {
				hear(News{Book: book})
			}
		case <-ping.C:
			go listener.Ping()
		}
	}
}

// parse leaves out what this server said itself, and the nil that follows a reconnection.
func (n *notifier) parse(said *pq.Notification) (book oplog.BookID, ok bool) {
	if said == nil {
		return book, false
	}
	server, id, ok := strings.Cut(said.Extra, " ")
	if !ok || server == n.server {
		return book, false
	}
	bytes, err := hex.DecodeString(id)
	if err != nil || len(bytes) != len(book) {
		return book, false
	}
	return oplog.BookID(bytes), true
}
