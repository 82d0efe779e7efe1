package postgres_test

import (
	"database/sql"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"hushcup/e2e/postgres"
)

func open(t *testing.T, dsn string) *sql.DB {
	t.Helper()
	db, err := sql.Open("postgres", dsn)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return db
}

func must(t *testing.T, db *sql.DB, statement string) {
	t.Helper()
	if _, err := db.Exec(statement); err != nil {
		t.Fatalf("%s: %v", statement, err)
	}
}

func TestFreshDatabasesShareNothing(t *testing.T) {
	one, two := open(t, postgres.Fresh(t)), open(t, postgres.Fresh(t))
	must(t, one, "CREATE TABLE cups (code int)")
	must(t, two, "CREATE TABLE cups (code int)")
	must(t, one, "INSERT INTO cups VALUES (417)")
	var n int
	if err := two.QueryRow("SELECT count(*) FROM cups").Scan(&n); err != nil || n != 0 {
		t.Fatalf("the other database holds %d cups (%v), want none", n, err)
	}
}

func TestCommitsAreDurable(t *testing.T) {
	db := open(t, postgres.Fresh(t))
	for setting, want := range map[string]string{"fsync": "on", "synchronous_commit": "on", "full_page_writes": "on"} {
		var got string
		if err := db.QueryRow("SHOW " + setting).Scan(&got); err != nil || got != want {
			t.Errorf("%s is %q (%v), want %q", setting, got, err, want)
		}
	}
}

func TestACommitOutlivesACrash(t *testing.T) {
	cluster := postgres.Start(t)
	dsn := cluster.Fresh(t)
	db := open(t, dsn)
	must(t, db, "CREATE TABLE cups (code int)")
	must(t, db, "INSERT INTO cups VALUES (417)")

	cluster.Crash()
	if err := db.Ping(); err == nil {
		t.Fatal("the crashed server still answers")
	}
	if err := cluster.Resume(); err != nil {
		t.Fatal(err)
	}
	var code int
	if err := open(t, dsn).QueryRow("SELECT code FROM cups").Scan(&code); err != nil || code != 417 {
		t.Fatalf("after the crash: code %d, %v", code, err)
	}
}

func TestDumpHoldsTheRows(t *testing.T) {
	cluster := postgres.Shared(t)
	dsn := cluster.Fresh(t)
	must(t, open(t, dsn), "CREATE TABLE notes AS SELECT 'redcurrant' AS note")
	if dump := cluster.Dump(t, dsn); !strings.Contains(string(dump), "redcurrant") {
		t.Fatalf("the dump lacks the row:\n%s", dump)
	}
}

// The child is this test binary again: it starts a server and is killed.
func TestServerEndsWithTheTestBinary(t *testing.T) {
	if os.Getenv("HUSHCUP_POSTGRES_CHILD") != "" {
		cluster, err := postgres.Open()
		if err != nil {
			t.Fatal(err)
		}
		os.Stdout.WriteString("folder " + cluster.Folder() + "\n")
		time.Sleep(time.Minute) // killed long before
		return
	}
	child := exec.Command(os.Args[0], "-test.run=^TestServerEndsWithTheTestBinary$")
	child.Env = append(os.Environ(), "HUSHCUP_POSTGRES_CHILD=1")
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	folder := readFolder(t, out)
	if err := child.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = child.Wait()
	for deadline := time.Now().Add(30 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if _, err := os.Stat(folder); os.IsNotExist(err) {
			return
		}
		if time.Now().After(deadline) {
			t.Fatalf("the server's folder %q is still there", folder)
		}
	}
}

func TestMissingProgramsAreNamed(t *testing.T) {
	t.Setenv("HUSHCUP_POSTGRES_BIN", t.TempDir())
	_, err := postgres.Open()
	if err == nil || !strings.Contains(err.Error(), "run e2e/setup") {
		t.Fatalf("got %v, want a sentence that says what to run", err)
	}
}
