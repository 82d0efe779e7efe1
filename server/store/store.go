// Package store keeps books in a database: relay.Store over sqlx, for PostgreSQL (lib/pq) and for the embedded SQLite
// (modernc.org/sqlite). The two differ in a handful of statements and in how they are opened (dialect); everything else is
// written once. The tables are those of package migrations.
//
// A book's row in `books` is its lock: every write holds it from its first statement to its commit, so positions are gapless
// and each is given once, however many servers write. Rows of a transaction are gathered and inserted at its end, many in one
// statement. With PostgreSQL a commit is followed by a notification from a transaction of its own, since a NOTIFY inside the
// write would make all writers of all books take turns at their commits.
package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/jmoiron/sqlx"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// Store is one database.
type Store struct {
	write   *sqlx.DB
	read    *sqlx.DB
	dialect dialect
	notify  *notifier // nil for SQLite
}

var _ relay.Store = (*Store)(nil)

// callTimeout bounds every call: a database that does not answer by then is down.
const callTimeout = 10 * time.Second

// Open connects to a database: "postgres://..." or the path of an SQLite file. The tables have to be there (Migrate).
func Open(ctx context.Context, source string) (*Store, error) {
	d := dialectOf(source)
	s, err := d.open(source)
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	if err := s.Ready(ctx); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// Close ends all connections, and sends the notifications that wait.
func (s *Store) Close() error {
	if s.notify != nil {
		s.notify.close()
	}
	err := s.write.Close()
	if s.read != s.write {
		err = errors.Join(err, s.read.Close())
	}
	return err
}

// Ready says whether the database answers and has its tables.
func (s *Store) Ready(ctx context.Context) error {
	var one int
	err := s.read.GetContext(ctx, &one, "SELECT count(*) FROM (SELECT 1 FROM books LIMIT 1) AS any_book")
	return s.dialect.classify(err)
}

// Write implements relay.Store.
func (s *Store) Write(ctx context.Context, book oplog.BookID, create bool, fn func(relay.Tx) error) error {
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	for attempt := 1; ; attempt++ {
		err := s.writeOnce(ctx, book, create, fn)
		if err == nil || attempt == 3 || !s.dialect.again(err) {
			return err
		}
	}
}

func (s *Store) writeOnce(ctx context.Context, book oplog.BookID, create bool, fn func(relay.Tx) error) error {
	db, err := s.write.BeginTxx(ctx, nil)
	if err != nil {
		return s.dialect.classify(err)
	}
	defer db.Rollback() // after a commit this does nothing
	t := &tx{ctx: ctx, db: db, dialect: s.dialect, book: book}
	if err := t.lock(create); err != nil {
		return err
	}
	if err := fn(t); err != nil {
		return err
	}
	if err := t.finish(); err != nil {
		return err
	}
	if err := db.Commit(); err != nil {
		return s.dialect.classify(err)
	}
	if s.notify != nil && t.appended {
		s.notify.changed(book)
	}
	return nil
}

// Read implements relay.Store.
func (s *Store) Read(ctx context.Context, book oplog.BookID, after uint64, limit relay.Limit) ([]oplog.Placed, error) {
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	return readRuns(ctx, s.read, s.dialect, book, after, limit)
}

// Head implements relay.Store.
func (s *Store) Head(ctx context.Context, book oplog.BookID) (relay.Head, error) {
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	return readHead(ctx, s.read, s.dialect, book, "")
}

// Chain implements relay.Store.
func (s *Store) Chain(ctx context.Context, book oplog.BookID, pos uint64) (oplog.Hash, bool, error) {
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	return readChain(ctx, s.read, s.dialect, book, pos)
}

// BooksOf implements relay.Store. It is the one query that crosses books.
func (s *Store) BooksOf(ctx context.Context, device oplog.DeviceID) ([]oplog.BookID, error) {
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	var ids [][]byte
	err := s.read.SelectContext(ctx, &ids, s.read.Rebind("SELECT book FROM devices WHERE device = ? ORDER BY book"), device[:])
	if err != nil {
		return nil, s.dialect.classify(err)
	}
	return bookIDs(ids)
}

// Heads implements relay.Store.
func (s *Store) Heads(ctx context.Context, since string) ([]oplog.BookID, string, error) {
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	ids, mark, err := s.dialect.heads(ctx, s.read, since)
	if err != nil {
		return nil, "", s.dialect.classify(err)
	}
	if since == "" {
		return nil, mark, nil
	}
	books, err := bookIDs(ids)
	return books, mark, err
}

// Books lists all books, for verify.
func (s *Store) Books(ctx context.Context) ([]oplog.BookID, error) {
	var ids [][]byte
	if err := s.read.SelectContext(ctx, &ids, "SELECT book FROM books ORDER BY book"); err != nil {
		return nil, s.dialect.classify(err)
	}
	return bookIDs(ids)
}

func bookIDs(rows [][]byte) ([]oplog.BookID, error) {
	ids := make([]oplog.BookID, len(rows))
	for i, row := range rows {
		if len(row) != len(ids[i]) {
			return nil, fmt.Errorf("a book's id has %d bytes", len(row))
		}
		copy(ids[i][:], row)
	}
	return ids, nil
}

func isPostgres(source string) bool {
	return strings.HasPrefix(source, "postgres://") || strings.HasPrefix(source, "postgresql://")
}

// Kind names the kind of database, for a log.
func (s *Store) Kind() string {
	if s.notify != nil {
		return "postgres"
	}
	return "sqlite"
}
