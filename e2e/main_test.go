// Package e2e tests the whole system: the real server on real databases, and
// phones that are real browsers, the real app without a browser, or made by hand.
package e2e

import (
	"os"
	"testing"

	"hushcup/e2e/postgres"
	"hushcup/e2e/proc"
)

func TestMain(m *testing.M) { os.Exit(proc.Main(m)) }

// onBoth runs a test against a server on each of the two databases.
func onBoth(t *testing.T, test func(t *testing.T, server *proc.Server)) {
	t.Helper()
	t.Run("SQLite", func(t *testing.T) { test(t, proc.Start(t)) })
	t.Run("PostgreSQL", func(t *testing.T) { test(t, proc.Start(t, "-database", postgres.Fresh(t))) })
}
