package store_test

import (
	"context"
	"path/filepath"
	"testing"

	"hushcup/e2e/postgres"
	"hushcup/server/store"
	"hushcup/sync/relay"
	"hushcup/sync/relay/storetest"
)

// kinds of database, each with how to make an empty one.
var kinds = map[string]func(t testing.TB) (address string){
	"sqlite":   func(t testing.TB) string { return filepath.Join(t.TempDir(), "books.sqlite") },
	"postgres": func(t testing.TB) string { return postgres.Fresh(t) },
}

func open(t testing.TB, address string) *store.Store {
	t.Helper()
	ctx := context.Background()
	if err := store.Migrate(ctx, address); err != nil {
		t.Fatal(err)
	}
	s, err := store.Open(ctx, address)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func TestContract(t *testing.T) {
	for name, fresh := range kinds {
		t.Run(name, func(t *testing.T) {
			storetest.Run(t, func(t *testing.T) relay.Store { return open(t, fresh(t)) })
		})
	}
}
