package store

import (
	"context"
	"errors"
	"fmt"
	"os"

	"github.com/jmoiron/sqlx"

	"hushcup/sync/relay"
)

// dialect is where the two databases differ.
type dialect interface {
	open(source string) (*Store, error)

	// forUpdate is what a SELECT ends with that locks its rows.
	forUpdate() string

	// nextMark is the expression, with its arguments, for a book's mark in this transaction.
	nextMark() (expression string, args []any)

	// heads lists the books with a mark since another.
	heads(ctx context.Context, db *sqlx.DB, since string) (books [][]byte, mark string, err error)

	// classify wraps relay.ErrDown around what passes by waiting.
	classify(err error) error

	// again says that the transaction only has to be tried once more.
	again(err error) bool
}

func dialectOf(source string) dialect {
	if isPostgres(source) {
		return postgres{}
	}
	return sqlite{}
}

// down wraps both what happened and that it may pass.
func down(err error) error { return fmt.Errorf("%w: %w", relay.ErrDown, err) }

// timedOut is true of errors by which a call was given up.
func timedOut(err error) bool {
	return errors.Is(err, context.DeadlineExceeded) || errors.Is(err, context.Canceled) || errors.Is(err, os.ErrDeadlineExceeded)
}
