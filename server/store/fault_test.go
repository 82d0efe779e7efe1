package store_test

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"hushcup/e2e/postgres"
	"hushcup/server/store"
	"hushcup/sync/oplog"
	"hushcup/sync/relay"
	"hushcup/sync/relay/storetest"
)

var ctx = context.Background()

// writer appends runs of its own to a book.
type writer struct {
	book  *storetest.Book
	order oplog.Order
}

func (w *writer) write(s relay.Store) error {
	run := w.book.Run(2, 200)
	return s.Write(ctx, w.book.ID, true, func(tx relay.Tx) error {
		var entries []oplog.Entry
		entries, w.order = tx.Head().Order.Entries(&run, tx.Head().Order.At+1)
		return tx.Append(&run, entries)
	})
}

func TestServersStartAtOnce(t *testing.T) {
	for name, fresh := range kinds {
		t.Run(name, func(t *testing.T) {
			address := fresh(t)
			var group sync.WaitGroup
			for range 6 {
				group.Add(1)
				go func() {
					defer group.Done()
					if err := store.Migrate(ctx, address); err != nil {
						t.Error(err)
						return
					}
					s, err := store.Open(ctx, address)
					if err != nil {
						t.Error(err)
						return
					}
					s.Close()
				}()
			}
			group.Wait()
			if version, dirty, err := store.Version(ctx, address); version != store.Newest || dirty || err != nil {
				t.Errorf("version %d, dirty %v, %v", version, dirty, err)
			}
		})
	}
}

func TestAMigrationBesideARunningServerChangesNothing(t *testing.T) {
	address := kinds["sqlite"](t)
	s := open(t, address)
	w := writer{book: storetest.NewBook(1)}
	if err := w.write(s); err != nil {
		t.Fatal(err)
	}
	if err := store.Migrate(ctx, address); err != nil {
		t.Fatal(err)
	}
	if err := w.write(s); err != nil {
		t.Fatal(err)
	}
}

func TestDirtyStateSaysTheWayOut(t *testing.T) {
	for name, fresh := range kinds {
		t.Run(name, func(t *testing.T) {
			address := fresh(t)
			if err := store.Migrate(ctx, address); err != nil {
				t.Fatal(err)
			}
			db, err := sql.Open(name, address)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := db.Exec("UPDATE schema_migrations SET dirty = true"); err != nil {
				t.Fatal(err)
			}
			db.Close()
			var dirty *store.DirtyError
			if err := store.Migrate(ctx, address); !errors.As(err, &dirty) || !strings.Contains(err.Error(), "server migrate -force") {
				t.Fatalf("a dirty database: %v", err)
			}
			if err := store.Force(ctx, address, store.Newest); err != nil {
				t.Fatal(err)
			}
			if err := store.Migrate(ctx, address); err != nil {
				t.Fatal(err)
			}
		})
	}
}

func TestNewerTablesAreLeftAlone(t *testing.T) {
	for name, fresh := range kinds {
		t.Run(name, func(t *testing.T) {
			address := fresh(t)
			if err := store.Migrate(ctx, address); err != nil {
				t.Fatal(err)
			}
			db, err := sql.Open(name, address)
			if err != nil {
				t.Fatal(err)
			}
			defer db.Close()
			if _, err := db.Exec(fmt.Sprintf("UPDATE schema_migrations SET version = %d", store.Newest+1)); err != nil {
				t.Fatal(err)
			}
			var newer *store.NewerError
			if err := store.Migrate(ctx, address); !errors.As(err, &newer) {
				t.Fatalf("newer tables: %v", err)
			}
		})
	}
}

func TestBooksOutliveTheProcess(t *testing.T) {
	for name, fresh := range kinds {
		t.Run(name, func(t *testing.T) {
			address := fresh(t)
			s := open(t, address)
			w := writer{book: storetest.NewBook(1)}
			if err := w.write(s); err != nil {
				t.Fatal(err)
			}
			s.Close()
			head, err := open(t, address).Head(ctx, w.book.ID)
			if err != nil || head.Order != w.order {
				t.Fatalf("head %+v (%v), want %+v", head, err, w.order)
			}
		})
	}
}

func TestTheFileIsForItsOwnerAlone(t *testing.T) {
	address := filepath.Join(t.TempDir(), "a folder?", "books.sqlite")
	open(t, address)
	info, err := os.Stat(address)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Fatalf("mode %v, %v", info.Mode(), err)
	}
}

func TestADatabaseGoesAndComesBack(t *testing.T) {
	cluster := postgres.Start(t)
	s := open(t, cluster.Fresh(t))
	w := writer{book: storetest.NewBook(1)}
	if err := w.write(s); err != nil {
		t.Fatal(err)
	}
	stored := w.order
	cluster.Crash()
	for name, err := range map[string]error{
		"write": w.write(s),
		"head":  second(s.Head(ctx, w.book.ID)),
		"read":  second(s.Read(ctx, w.book.ID, 0, relay.Limit{})),
		"ready": s.Ready(ctx),
	} {
		if !errors.Is(err, relay.ErrDown) {
			t.Errorf("%s of a crashed database: %v, want ErrDown", name, err)
		}
	}
	if err := cluster.Resume(); err != nil {
		t.Fatal(err)
	}
	eventually(t, func() bool { return s.Ready(ctx) == nil })
	if head, err := s.Head(ctx, w.book.ID); err != nil || head.Order != stored {
		t.Fatalf("after the crash: %+v (%v), want %+v", head, err, stored)
	}
}

func second[T any](_ T, err error) error { return err }

func eventually(t *testing.T, ok func() bool) {
	t.Helper()
	for deadline := time.Now().Add(20 * time.Second); !ok(); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatal("it did not happen in time")
		}
	}
}

func TestRELAY_26_ServersHearOfEachOther(t *testing.T) {
	cluster := postgres.Start(t)
	address := cluster.Fresh(t)
	here, there := open(t, address), open(t, address)
	heard := listen(t, there, address)
	own := listen(t, here, address)
	<-heard.polls
	<-own.polls
	w := writer{book: storetest.NewBook(1)}
	for range 20 {
		if err := w.write(here); err != nil {
			t.Fatal(err)
		}
	}
	eventually(t, func() bool { return heard.count(w.book.ID) > 0 })
	if n := own.count(w.book.ID); n != 0 {
		t.Errorf("a server was woken %d times by itself", n)
	}
	// the connection breaks: the listener says so, comes back, and asks for a poll
	cluster.Stop()
	if err := cluster.Resume(); err != nil {
		t.Fatal(err)
	}
	select {
	case <-heard.doubts:
	case <-time.After(20 * time.Second):
		t.Fatal("no doubt after a broken connection")
	}
	<-heard.polls
	before := heard.count(w.book.ID)
	eventually(t, func() bool { return w.write(here) == nil })
	eventually(t, func() bool { return heard.count(w.book.ID) > before })
}

type ear struct {
	mu            sync.Mutex
	books         map[oplog.BookID]int
	polls, doubts chan struct{}
}

func (e *ear) count(book oplog.BookID) int {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.books[book]
}

func listen(t *testing.T, s *store.Store, address string) *ear {
	e := &ear{books: map[oplog.BookID]int{}, polls: make(chan struct{}, 100), doubts: make(chan struct{}, 100)}
	listening, stop := context.WithCancel(ctx)
	done := make(chan error, 1)
	go func() {
		done <- s.Listen(listening, address, func(n store.News) {
			switch {
			case n.Poll:
				e.polls <- struct{}{}
			case n.Doubt:
				e.doubts <- struct{}{}
			default:
				e.mu.Lock()
				e.books[n.Book]++
				e.mu.Unlock()
			}
		})
	}()
	t.Cleanup(func() {
		stop()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	return e
}

func TestTwoServersOnOneFile(t *testing.T) {
	address := kinds["sqlite"](t)
	stores := []*store.Store{open(t, address), open(t, address)}
	const writers, each = 4, 10
	id := storetest.NewBook(1).ID
	var group sync.WaitGroup
	for i := range writers {
		group.Add(1)
		go func() {
			defer group.Done()
			b := storetest.NewBook(byte(i + 1))
			for range each {
				run := b.Run(1, 100)
				err := stores[i%2].Write(ctx, id, true, func(tx relay.Tx) error {
					entries, _ := tx.Head().Order.Entries(&run, 1)
					return tx.Append(&run, entries)
				})
				if err != nil {
					t.Error(err)
				}
			}
		}()
	}
	group.Wait()
	if head, err := stores[0].Head(ctx, id); err != nil || head.Order.Pos != writers*each {
		t.Fatalf("head at %d (%v), want %d", head.Order.Pos, err, writers*each)
	}
}
