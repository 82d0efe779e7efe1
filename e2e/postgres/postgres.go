// Package postgres starts a PostgreSQL server of its own for tests: on a
// loopback port, in a temporary folder, with durable commits (fsync on), so
// that what is tested is what a host would run.
//
//	func TestStore(t *testing.T) {
//		dsn := postgres.Fresh(t) // an empty database, dropped after the test
//		...
//	}
//
// One server is shared by a whole test binary. It is held by a supervisor
// process which stops the server and removes its folder as soon as the test
// binary ends, however it ends. A test that needs to stop its database takes
// one of its own with Start.
//
// Nothing is skipped: where the server's programs are missing, the test fails
// and says how to get them.
package postgres

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	_ "github.com/lib/pq" // registers the driver "postgres"
)

// readyWithin bounds the wait for a server that was just started.
const readyWithin = 60 * time.Second

// Cluster is one running PostgreSQL server.
type Cluster struct {
	programs string // folder of initdb, postgres, pg_dump
	folder   string // holds data/, the socket and the log
	owner    owner
	port     int
	super    *supervisor
	names    atomic.Int64
}

var shared struct {
	once    sync.Once
	cluster *Cluster
	err     error
}

// Fresh makes an empty database on the shared server and returns its
// connection string. The database is dropped when the test ends.
func Fresh(t testing.TB) (dsn string) {
	t.Helper()
	return Shared(t).Fresh(t)
}

// Shared is the server that all tests of this binary use.
func Shared(t testing.TB) *Cluster {
	t.Helper()
	shared.once.Do(func() { shared.cluster, shared.err = Open() })
	if shared.err != nil {
		t.Fatalf("postgres: %v", shared.err)
	}
	return shared.cluster
}

// Start runs a server for one test alone, which may stop it; it is gone when
// the test ends.
func Start(t testing.TB) *Cluster {
	t.Helper()
	c, err := Open()
	if err != nil {
		t.Fatalf("postgres: %v", err)
	}
	t.Cleanup(c.Close)
	return c
}

// Open runs a server until Close, or until this process ends.
func Open() (*Cluster, error) {
	programs, err := findPrograms()
	if err != nil {
		return nil, err
	}
	owner, err := findOwner()
	if err != nil {
		return nil, err
	}
	folder, err := os.MkdirTemp("", "hushcup-postgres-")
	if err != nil {
		return nil, err
	}
	c := &Cluster{programs: programs, folder: folder, owner: owner}
	if err := c.create(); err != nil {
		os.RemoveAll(folder)
		return nil, err
	}
	return c, nil
}

func (c *Cluster) create() error {
	if err := c.owner.take(c.folder); err != nil {
		return err
	}
	// The cluster itself is thrown away, so only its commits need to be
	// durable, not its making.
	initdb := exec.Command(filepath.Join(c.programs, "initdb"), "--pgdata", c.data(),
		"--auth", "trust", "--username", "hushcup", "--encoding", "UTF8", "--no-locale", "--no-sync")
	initdb.Dir = c.folder
	c.owner.run(initdb)
	if out, err := initdb.CombinedOutput(); err != nil {
		return fmt.Errorf("initdb failed: %w\n%s", err, out)
	}
	// A port that is free now may be taken a moment later: try a few.
	var err error
	for range 5 {
		if c.port, err = freePort(); err != nil {
			return err
		}
		if err = c.Resume(); err == nil || !errors.Is(err, errPortTaken) {
			return err
		}
	}
	return err
}

// Resume starts a stopped server again, on the same port with the same data,
// and waits until it answers.
func (c *Cluster) Resume() error {
	super, err := supervise(c)
	if err != nil {
		return err
	}
	c.super = super
	if err := c.waitReady(); err != nil {
		c.super.end(wordKeep)
		return err
	}
	return nil
}

// Stop ends the server in order and keeps its data for Resume: what an
// administrator's restart looks like to a program that is connected.
func (c *Cluster) Stop() { c.super.end(wordKeep) }

// Crash ends the server at once, without a checkpoint, and keeps its data:
// what Resume finds is what a power failure would leave.
func (c *Cluster) Crash() { c.super.end(wordCrash) }

// Close ends the server and removes its folder.
func (c *Cluster) Close() {
	c.super.end(wordRemove)
	os.RemoveAll(c.folder)
}

// Fresh makes an empty database, dropped when the test ends.
func (c *Cluster) Fresh(t testing.TB) (dsn string) {
	t.Helper()
	dsn, drop, err := c.Create()
	if err != nil {
		t.Fatalf("postgres: %v", err)
	}
	t.Cleanup(drop)
	return dsn
}

// Create makes an empty database and returns how to reach and to drop it.
func (c *Cluster) Create() (dsn string, drop func(), err error) {
	name := fmt.Sprintf("hushcup_%d", c.names.Add(1))
	if err := c.administer("CREATE DATABASE " + name); err != nil {
		return "", nil, fmt.Errorf("create a database: %w", err)
	}
	// A dropped database is only tidiness: the server may be stopped by then.
	drop = func() { _ = c.administer("DROP DATABASE IF EXISTS " + name + " WITH (FORCE)") }
	return c.dsn(name), drop, nil
}

// Dump is what pg_dump writes for a database: what somebody holds who stole a
// backup.
func (c *Cluster) Dump(t testing.TB, dsn string) []byte {
	t.Helper()
	var out, complaint bytes.Buffer
	dump := exec.Command(filepath.Join(c.programs, "pg_dump"), "--dbname", dsn, "--no-password")
	dump.Stdout, dump.Stderr = &out, &complaint
	if err := dump.Run(); err != nil {
		t.Fatalf("postgres: pg_dump failed: %v\n%s", err, complaint.String())
	}
	return out.Bytes()
}

// Checkpoint writes everything to the data files, so that a test can search
// Folder for what must not be in it.
func (c *Cluster) Checkpoint(t testing.TB) {
	t.Helper()
	if err := c.administer("CHECKPOINT"); err != nil {
		t.Fatalf("postgres: checkpoint: %v", err)
	}
}

// Folder holds everything the server wrote: its data files, its write-ahead
// log and its own log.
func (c *Cluster) Folder() string { return c.folder }

// Log is what the server has said so far.
func (c *Cluster) Log() string {
	text, _ := os.ReadFile(c.logFile())
	return string(text)
}

func (c *Cluster) data() string    { return filepath.Join(c.folder, "data") }
func (c *Cluster) logFile() string { return filepath.Join(c.folder, "log") }

func (c *Cluster) dsn(database string) string {
	return fmt.Sprintf("postgres://hushcup@127.0.0.1:%d/%s?sslmode=disable", c.port, database)
}

func (c *Cluster) administer(statement string) error {
	db, err := sql.Open("postgres", c.dsn("postgres"))
	if err != nil {
		return err
	}
	defer db.Close()
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	_, err = db.ExecContext(ctx, statement)
	return err
}

var errPortTaken = errors.New("the port was taken by another program")

func (c *Cluster) waitReady() error {
	deadline := time.Now().Add(readyWithin)
	for {
		err := c.administer("SELECT 1")
		if err == nil {
			return nil
		}
		if strings.Contains(c.Log(), "Address already in use") {
			return errPortTaken
		}
		if time.Now().After(deadline) {
			return fmt.Errorf("the server did not answer within %v: %w\n%s", readyWithin, err, c.Log())
		}
		time.Sleep(20 * time.Millisecond)
	}
}

func freePort() (int, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return 0, err
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port, nil
}
