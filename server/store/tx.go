package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"github.com/jmoiron/sqlx"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// tx is one transaction that holds the book's row.
type tx struct {
	ctx     context.Context
	db      *sqlx.Tx
	dialect dialect
	book    oplog.BookID

	head     relay.Head
	appended bool
	marked   bool  // the restored mark changed
	rows     []any // columns of entries that are still to be inserted
}

const (
	entryColumns = "book, pos, chain, at, device, seq, kind, header, body, sig"
	entryWidth   = 10
	insertRows   = 64 // in one statement; both databases take far more parameters
)

// lock takes the book's row, so that nobody else orders anything in the book until the commit.
func (t *tx) lock(create bool) error {
	if create {
		_, err := t.exec("INSERT INTO books (book, pos, chain, at, restored, mark) VALUES (?, 0, ?, 0, FALSE, 0) ON CONFLICT DO NOTHING",
			t.book[:], make([]byte, 32))
		if err != nil {
			return err
		}
	}
	head, err := readHead(t.ctx, t.db, t.dialect, t.book, t.dialect.forUpdate())
	if err != nil {
		return err
	}
	if !head.Exists {
		return relay.ErrNoBook
	}
	t.head = head
	return nil
}

// finish writes what was gathered.
func (t *tx) finish() error {
	if err := t.flush(); err != nil {
		return err
	}
	if !t.appended && !t.marked {
		return nil
	}
	o := t.head.Order
	mark, args := t.dialect.nextMark()
	args = append([]any{o.Pos, o.Chain[:], o.At, t.head.Restored}, args...)
	_, err := t.exec("UPDATE books SET pos = ?, chain = ?, at = ?, restored = ?, mark = "+mark+" WHERE book = ?", append(args, t.book[:])...)
	return err
}

// flush inserts the gathered rows.
func (t *tx) flush() error {
	for len(t.rows) > 0 {
		n := min(len(t.rows)/entryWidth, insertRows)
		if _, err := t.exec(insertEntries(n), t.rows[:n*entryWidth]...); err != nil {
			return err
		}
		t.rows = t.rows[n*entryWidth:]
	}
	return nil
}

func insertEntries(rows int) string {
	const row = "(?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"
	return "INSERT INTO entries (" + entryColumns + ") VALUES " + strings.Repeat(row+", ", rows-1) + row
}

func (t *tx) exec(query string, args ...any) (sql.Result, error) {
	result, err := t.db.ExecContext(t.ctx, t.db.Rebind(query), args...)
	return result, t.dialect.classify(err)
}

// Head implements relay.Tx.
func (t *tx) Head() relay.Head { return t.head }

// Runs implements relay.Tx.
func (t *tx) Runs(after uint64, limit relay.Limit) ([]oplog.Placed, error) {
	if err := t.flush(); err != nil {
		return nil, err
	}
	return readRuns(t.ctx, t.db, t.dialect, t.book, after, limit)
}

// Chain implements relay.Tx.
func (t *tx) Chain(pos uint64) (oplog.Hash, bool, error) {
	if err := t.flush(); err != nil {
		return oplog.Hash{}, false, err
	}
	return readChain(t.ctx, t.db, t.dialect, t.book, pos)
}

// Place implements relay.Tx.
func (t *tx) Place(device oplog.DeviceID, seq uint64) (relay.Place, bool, error) {
	if err := t.flush(); err != nil {
		return relay.Place{}, false, err
	}
	var row struct {
		Pos    uint64
		At     int64
		Header []byte
	}
	err := t.db.GetContext(t.ctx, &row, t.db.Rebind("SELECT pos, at, header FROM entries WHERE book = ? AND device = ? AND seq = ?"),
		t.book[:], device[:], seq)
	if errors.Is(err, sql.ErrNoRows) {
		return relay.Place{}, false, nil
	}
	if err != nil {
		return relay.Place{}, false, t.dialect.classify(err)
	}
	op, err := oplog.Parse(row.Header, nil)
	if err != nil {
		return relay.Place{}, false, fmt.Errorf("position %d: %w", row.Pos, err)
	}
	return relay.Place{Pos: row.Pos, At: row.At, Hash: op.Hash()}, true, nil
}

// Append implements relay.Tx. The rows are inserted at the end of the transaction; that a position or a seq is taken twice is
// then found by the database.
func (t *tx) Append(run *oplog.Run, entries []oplog.Entry) error {
	if len(run.Ops) != len(entries) {
		return fmt.Errorf("append: %d ops at %d places", len(run.Ops), len(entries))
	}
	for i := range entries {
		e := &entries[i]
		if e.Order.Pos != t.head.Order.Pos+1 {
			return fmt.Errorf("append: position %d after %d", e.Order.Pos, t.head.Order.Pos)
		}
		t.rows = append(t.rows, t.book[:], e.Order.Pos, e.Order.Chain[:], e.Order.At, e.Op.Device[:], e.Op.Seq, uint8(e.Op.Kind),
			e.Op.Raw, orNull(e.Op.Body), signature(run, i))
		t.head.Order = e.Order
	}
	t.appended = true
	return nil
}

// orNull keeps a dropped body apart from an empty one.
func orNull(body []byte) any {
	if body == nil {
		return nil
	}
	return body
}

// signature stands with a run's last op.
func signature(run *oplog.Run, i int) any {
	if i < len(run.Ops)-1 {
		return nil
	}
	return run.Sig[:]
}

// SetEnrolled implements relay.Tx.
func (t *tx) SetEnrolled(in, out []oplog.DeviceID) error {
	for _, device := range in {
		if _, err := t.exec("INSERT INTO devices (book, device) VALUES (?, ?) ON CONFLICT DO NOTHING", t.book[:], device[:]); err != nil {
			return err
		}
	}
	for _, device := range out {
		if _, err := t.exec("DELETE FROM devices WHERE book = ? AND device = ?", t.book[:], device[:]); err != nil {
			return err
		}
	}
	return nil
}

// SetRestored implements relay.Tx.
func (t *tx) SetRestored(restored bool) error {
	t.head.Restored, t.marked = restored, true
	return nil
}

// Drop implements relay.Tx.
func (t *tx) Drop(positions []uint64) error {
	if err := t.flush(); err != nil {
		return err
	}
	for len(positions) > 0 {
		n := min(len(positions), insertRows)
		query, args, err := sqlx.In("UPDATE entries SET body = NULL WHERE book = ? AND pos IN (?)", t.book[:], positions[:n])
		if err != nil {
			return err
		}
		if _, err := t.exec(query, args...); err != nil {
			return err
		}
		positions = positions[n:]
	}
	return nil
}
