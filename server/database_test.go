package main

import (
	"database/sql"
	"os"
	"path/filepath"
	"testing"

	"hushcup/e2e/postgres"
)

func freshPostgres(t testing.TB) string { return postgres.Fresh(t) }

func ownPostgres(t testing.TB) (*postgres.Cluster, string) {
	cluster := postgres.Start(t)
	return cluster, cluster.Fresh(t)
}

// damage copies an SQLite file and changes the copy, as somebody could who has the file.
func damage(t *testing.T, database, statement string) string {
	t.Helper()
	content, err := os.ReadFile(database)
	if err != nil {
		t.Fatal(err)
	}
	damaged := filepath.Join(t.TempDir(), "damaged.sqlite")
	if err := os.WriteFile(damaged, content, 0o600); err != nil {
		t.Fatal(err)
	}
	db, err := sql.Open("sqlite", damaged)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(statement); err != nil {
		t.Fatal(err)
	}
	return damaged
}
