package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/jmoiron/sqlx"

	"hushcup/sync/oplog"
	"hushcup/sync/relay"
)

// queryer is a database or a transaction.
type queryer interface {
	sqlx.ExtContext
	GetContext(ctx context.Context, dest any, query string, args ...any) error
}

func readHead(ctx context.Context, q queryer, d dialect, book oplog.BookID, lock string) (relay.Head, error) {
	var row struct {
		Pos      uint64
		Chain    []byte
		At       int64
		Restored bool
	}
	err := q.GetContext(ctx, &row, q.Rebind("SELECT pos, chain, at, restored FROM books WHERE book = ?"+lock), book[:])
	if errors.Is(err, sql.ErrNoRows) {
		return relay.Head{}, nil
	}
	if err != nil {
		return relay.Head{}, d.classify(err)
	}
	head := relay.Head{Exists: true, Order: oplog.Order{Pos: row.Pos, At: row.At}, Restored: row.Restored}
	return head, copyHash(&head.Order.Chain, row.Chain)
}

func readChain(ctx context.Context, q queryer, d dialect, book oplog.BookID, pos uint64) (chain oplog.Hash, ok bool, err error) {
	var row []byte
	err = q.GetContext(ctx, &row, q.Rebind("SELECT chain FROM entries WHERE book = ? AND pos = ?"), book[:], pos)
	if errors.Is(err, sql.ErrNoRows) {
		return chain, false, nil
	}
	if err != nil {
		return chain, false, d.classify(err)
	}
	err = copyHash(&chain, row)
	return chain, err == nil, err
}

func copyHash(h *oplog.Hash, row []byte) error {
	if len(row) != len(h) {
		return fmt.Errorf("a chain value has %d bytes", len(row))
	}
	copy(h[:], row)
	return nil
}

// pageRows is how many rows are asked for at once: enough for the longest run, so that every page brings a whole one, and not
// many more, since what is over the limit was sent for nothing.
const pageRows = 2 * oplog.MaxRunOps

// readRuns reads pages until the limit is reached or nothing is left.
func readRuns(ctx context.Context, q queryer, d dialect, book oplog.BookID, after uint64, limit relay.Limit) ([]oplog.Placed, error) {
	r := runReader{limit: limit}
	for {
		rows, err := r.page(ctx, q, book, after)
		if err != nil {
			return nil, d.classify(err)
		}
		if r.full || rows < pageRows {
			break
		}
		if r.end() == after {
			return nil, fmt.Errorf("no run ends within %d positions after %d", rows, after)
		}
		after = r.end()
	}
	return r.runs, nil
}

// runReader puts rows together to runs; a run ends with the row that has a signature.
type runReader struct {
	limit   relay.Limit
	runs    []oplog.Placed
	bytes   int
	full    bool
	open    oplog.Placed // the run that is being put together
	opening int          // its bytes
}

// end is the position after which the next page begins.
func (r *runReader) end() uint64 {
	if len(r.runs) == 0 {
		return 0
	}
	last := &r.runs[len(r.runs)-1]
	return last.First + uint64(len(last.Run.Ops)) - 1
}

func (r *runReader) page(ctx context.Context, q queryer, book oplog.BookID, after uint64) (n int, err error) {
	body := "body"
	if r.limit.Rules { // what the rules fold needs no sealed content
		body = "CASE WHEN kind = 0 THEN NULL ELSE body END"
	}
	rows, err := q.QueryContext(ctx, q.Rebind("SELECT pos, at, header, "+body+", body IS NOT NULL, sig FROM entries WHERE book = ? AND pos > ? ORDER BY pos LIMIT ?"),
		book[:], after, pageRows)
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	r.open, r.opening = oplog.Placed{}, 0
	for rows.Next() && !r.full {
		n++
		if err := r.row(rows); err != nil {
			return n, err
		}
	}
	return n, rows.Err()
}

func (r *runReader) row(rows *sql.Rows) error {
	var pos uint64
	var at int64
	var header, body, sig []byte
	var there bool
	if err := rows.Scan(&pos, &at, &header, &body, &there, &sig); err != nil {
		return err
	}
	if len(r.open.Run.Ops) == 0 {
		r.open.First, r.open.At = pos, at
	}
	op := oplog.PackedOp{Raw: header}
	if body != nil || there && !r.limit.Rules { // a driver may give an empty body as nil
		op.Body = &body
	}
	r.open.Run.Ops = append(r.open.Run.Ops, op)
	r.opening += len(header) + len(body)
	if sig != nil {
		r.open.Run.Sig = sig
		r.close()
	}
	return nil
}

// close takes the finished run, if the limit allows.
func (r *runReader) close() {
	if r.full = r.limit.Full(len(r.runs), r.bytes, r.opening); r.full {
		return
	}
	r.runs, r.bytes = append(r.runs, r.open), r.bytes+r.opening
	r.open, r.opening = oplog.Placed{}, 0
}
