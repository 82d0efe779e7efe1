package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"io"
	"net"
	"net/url"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/jmoiron/sqlx"
	"github.com/lib/pq"

	"hushcup/sync/relay"
)

type postgres struct{}

// postgresConns bounds what one server asks of a database that others share.
const postgresConns = 16

func (postgres) open(source string) (*Store, error) {
	source, err := withDefaults(source)
	if err != nil {
		return nil, err
	}
	db, err := sqlx.Open("postgres", source)
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(postgresConns)
	db.SetMaxIdleConns(postgresConns)
	db.SetConnMaxIdleTime(5 * time.Minute)
	s := &Store{write: db, read: db, dialect: postgres{}}
	s.notify = newNotifier(db)
	return s, nil
}

// withDefaults sends byte strings as they are rather than as text twice their length, gives up a host that does not answer,
// and encrypts only where the address says so, unless the address says otherwise.
func withDefaults(source string) (string, error) {
	u, err := url.Parse(source)
	if err != nil {
		return "", errors.New("the database's address does not parse") // the parser's own words would show the password
	}
	q := u.Query()
	for name, value := range map[string]string{"binary_parameters": "yes", "connect_timeout": "5"} {
		if !q.Has(name) {
			q.Set(name, value)
		}
	}
	u.RawQuery = q.Encode()
	return u.String(), nil
}

func (postgres) forUpdate() string { return " FOR UPDATE" }

// nextMark is the transaction's number. Numbers are given at the start of transactions, not in the order of commits; heads
// allows for that.
func (postgres) nextMark() (string, []any) {
	return "CAST(CAST(pg_current_xact_id() AS text) AS bigint)", nil
}

// heads lists what was written by transactions that were still open at the mark or began later. The bound above hides the
// numbers of another cluster, from which this database was once restored.
func (postgres) heads(ctx context.Context, db *sqlx.DB, since string) ([][]byte, string, error) {
	var now struct{ Xmin, Xmax int64 }
	err := db.GetContext(ctx, &now, `SELECT CAST(CAST(pg_snapshot_xmin(s) AS text) AS bigint) AS xmin,
		CAST(CAST(pg_snapshot_xmax(s) AS text) AS bigint) AS xmax FROM pg_current_snapshot() AS s`)
	if err != nil || since == "" {
		return nil, strconv.FormatInt(now.Xmin, 10), err
	}
	from, err := strconv.ParseInt(since, 10, 64)
	if err != nil {
		return nil, "", err
	}
	var books [][]byte
	err = db.SelectContext(ctx, &books, "SELECT book FROM books WHERE mark >= $1 AND mark < $2 ORDER BY book", from, now.Xmax)
	return books, strconv.FormatInt(now.Xmin, 10), err
}

func (d postgres) classify(err error) error {
	if err == nil || errors.Is(err, relay.ErrDown) {
		return err
	}
	var fault *pq.Error
	if errors.As(err, &fault) {
		if passes(fault) {
			return down(err)
		}
		return err
	}
	var network net.Error
	if timedOut(err) || errors.As(err, &network) || errors.Is(err, driver.ErrBadConn) || errors.Is(err, sql.ErrConnDone) ||
		errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, syscall.ECONNRESET) || errors.Is(err, syscall.EPIPE) ||
		errors.Is(err, sql.ErrTxDone) {
		return down(err)
	}
	return err
}

// passes: lost connections (08), resources (53), an operator's intervention (57), locks and serialisation (40, 55), a standby
// that has not yet taken over (25006), a disk that failed (58).
func passes(fault *pq.Error) bool {
	code := string(fault.Code)
	for _, class := range []string{"08", "53", "57", "40", "55", "58", "25006"} {
		if strings.HasPrefix(code, class) {
			return true
		}
	}
	return false
}

func (postgres) again(err error) bool {
	var fault *pq.Error
	return errors.As(err, &fault) && strings.HasPrefix(string(fault.Code), "40")
}
