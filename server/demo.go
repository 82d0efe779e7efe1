package main

import (
	"context"
	"errors"
	"io"

	"hushcup/server/store"
)

// makeDemo fills the demonstration club; it is set where the club is made.
var makeDemo func(ctx context.Context, address string, books *store.Store, stdout io.Writer) error

func addDemo(ctx context.Context, _ *settings, books *store.Store, l *listeners, stdout io.Writer) error {
	if makeDemo == nil {
		return errors.New("-demo: this build has no demonstration club")
	}
	return makeDemo(ctx, l.addresses()[0], books, stdout)
}
