package store

import (
	"context"
	"errors"
	"net/url"
	"os"
	"strconv"

	"github.com/jmoiron/sqlx"
	driver "modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"hushcup/sync/relay"
)

type sqlite struct{}

// sqliteReaders may read while one writes.
const sqliteReaders = 4

func (sqlite) open(source string) (*Store, error) {
	if _, err := os.Stat(source); err != nil {
		return nil, err // opening would make an empty file; Migrate makes it
	}
	write, err := sqlx.Open("sqlite", sqliteAddress(source, false))
	if err != nil {
		return nil, err
	}
	write.SetMaxOpenConns(1) // SQLite has one writer: wait for it here, in order, rather than by trying again
	read, err := sqlx.Open("sqlite", sqliteAddress(source, true))
	if err != nil {
		return nil, errors.Join(err, write.Close())
	}
	read.SetMaxOpenConns(sqliteReaders)
	read.SetMaxIdleConns(sqliteReaders)
	return &Store{write: write, read: read, dialect: sqlite{}}, nil
}

// sqliteAddress: a write-ahead log, so that readers and the writer do not wait for each other; synchronous=FULL, so that a
// commit is on the disk when it returns; transactions that take the write lock at their beginning, since one that read first
// could not be upgraded.
func sqliteAddress(path string, readOnly bool) string {
	q := url.Values{"_pragma": {"busy_timeout(8000)", "journal_mode(WAL)", "synchronous(FULL)", "foreign_keys(ON)"}}
	if readOnly {
		q.Add("_pragma", "query_only(ON)")
	} else {
		q.Set("_txlock", "immediate")
	}
	u := url.URL{Scheme: "file", Opaque: (&url.URL{Path: path}).EscapedPath(), RawQuery: q.Encode()}
	return u.String()
}

// forUpdate: the transaction holds the whole file already.
func (sqlite) forUpdate() string { return "" }

// nextMark counts; one writer at a time makes it the order of commits.
func (sqlite) nextMark() (string, []any) {
	return "(SELECT coalesce(max(mark), 0) + 1 FROM books)", nil
}

func (sqlite) heads(ctx context.Context, db *sqlx.DB, since string) (books [][]byte, mark string, err error) {
	var now int64
	if err := db.GetContext(ctx, &now, "SELECT coalesce(max(mark), 0) FROM books"); err != nil || since == "" {
		return nil, strconv.FormatInt(now, 10), err
	}
	from, err := strconv.ParseInt(since, 10, 64)
	if err != nil {
		return nil, "", err
	}
	err = db.SelectContext(ctx, &books, "SELECT book FROM books WHERE mark > ? ORDER BY book", from)
	return books, strconv.FormatInt(now, 10), err
}

func (sqlite) classify(err error) error {
	if err == nil || errors.Is(err, relay.ErrDown) {
		return err
	}
	var fault *driver.Error
	if errors.As(err, &fault) {
		switch fault.Code() & 0xff {
		case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_FULL, sqlite3.SQLITE_CANTOPEN,
			sqlite3.SQLITE_INTERRUPT, sqlite3.SQLITE_READONLY:
			return down(err)
		}
		return err
	}
	if timedOut(err) {
		return down(err)
	}
	return err
}

func (sqlite) again(error) bool { return false }
