package main

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"strings"
	"sync"
	"time"

	"hushcup/e2e/handmade"
	"hushcup/e2e/postgres"
	"hushcup/e2e/proc"
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

const (
	writers   = 8   // connections, each with a book of its own
	runsEach  = 48  // runs of oplog.MaxRunOps ops
	plainSize = 200 // bytes of a part before sealing
	window    = 16  // runs on their way unanswered
)

// writer has made everything that it will send before the clock starts.
type writer struct {
	device handmade.Device
	create oplog.Run
	runs   []oplog.Run
}

// ingest compares how fast the server takes sealed ops, with durable commits,
// with how fast the same PostgreSQL takes the same bytes in bare inserts.
func ingest() ([]figure, error) {
	cluster, err := postgres.Open()
	if err != nil {
		return nil, err
	}
	defer cluster.Close()
	list := makeWriters()
	small, err := bareInserts(cluster, list, 1)
	if err != nil {
		return nil, err
	}
	large, err := bareInserts(cluster, list, 8)
	if err != nil {
		return nil, err
	}
	server, err := throughServer(cluster, list)
	if err != nil {
		return nil, err
	}
	ops := fmt.Sprintf("%d ops of %d bytes", writers*runsEach*oplog.MaxRunOps, list[0].runs[0].Size()/oplog.MaxRunOps)
	return []figure{
		{name: "ingest, server", measured: perSecond(server), note: ops + ", durable"},
		{name: "ingest, bare inserts", measured: perSecond(small), note: "the same rows, 64 a commit"},
		{name: "ingest, bare inserts", measured: perSecond(large), note: "the same rows, 512 a commit"},
		{name: "ingest ratio", measured: fmt.Sprintf("%.2f", server/small), budget: ">= 0.5", within: server >= 0.5*small,
			note: fmt.Sprintf("%.2f of 512 a commit", server/large)},
	}, nil
}

func makeWriters() []*writer {
	now := time.Now().UnixMilli()
	list := make([]*writer, writers)
	var all sync.WaitGroup
	for i := range list {
		all.Add(1)
		go func() {
			defer all.Done()
			w := &writer{device: handmade.NewDevice()}
			book, create := handmade.NewBook(club.Notebook, w.device, now)
			w.create = create
			for range runsEach {
				w.runs = append(w.runs, book.Parts(now, oplog.MaxRunOps, plainSize))
			}
			list[i] = w
		}()
	}
	all.Wait()
	return list
}

func throughServer(cluster *postgres.Cluster, list []*writer) (opsPerSecond float64, err error) {
	dsn, drop, err := cluster.Create()
	if err != nil {
		return 0, err
	}
	defer drop()
	folder, err := os.MkdirTemp("", "hushcup-bench-")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(folder)
	server, err := proc.Run(folder, "-database", dsn)
	if err != nil {
		return 0, err
	}
	defer server.Kill()

	conns := make([]*handmade.Conn, len(list))
	for i, w := range list {
		conn, _, err := handmade.DialAs(server.Address(), w.device)
		if err != nil {
			return 0, err
		}
		defer conn.Close()
		conns[i] = conn
		if err := pushAll(conn, []oplog.Run{w.create}); err != nil {
			return 0, err
		}
	}
	return timed(len(list), func(i int) error { return pushAll(conns[i], list[i].runs) })
}

// pushAll keeps a window of runs on their way until all are acknowledged.
func pushAll(conn *handmade.Conn, runs []oplog.Run) error {
	sent, acked := 0, 0
	for acked < len(runs) {
		for sent < len(runs) && sent-acked < window {
			if err := conn.Push(runs[sent]); err != nil {
				return err
			}
			sent++
		}
		answer, err := conn.Answer()
		if err != nil {
			return err
		}
		ack, ok := answer.(*wire.Ack)
		if !ok {
			return fmt.Errorf("the server answered a run with %T: %+v", answer, answer)
		}
		// One answer may stand for several runs: it names the last op's seq.
		for acked < sent && runs[acked].Ops[len(runs[acked].Ops)-1].Seq <= ack.Seq {
			acked++
		}
	}
	return nil
}

// bareInserts writes the same bytes as rows under the same primary key, so many
// runs a transaction, over as many connections.
func bareInserts(cluster *postgres.Cluster, list []*writer, runsPerCommit int) (opsPerSecond float64, err error) {
	dsn, drop, err := cluster.Create()
	if err != nil {
		return 0, err
	}
	defer drop()
	db, err := sql.Open("postgres", dsn)
	if err != nil {
		return 0, err
	}
	defer db.Close()
	db.SetMaxIdleConns(len(list))
	if _, err := db.Exec(`CREATE TABLE bare (book bytea, position bigint, header bytea, body bytea, PRIMARY KEY (book, position))`); err != nil {
		return 0, err
	}
	for range list { // connections are not what is measured
		if err := db.Ping(); err != nil {
			return 0, err
		}
	}
	return timed(len(list), func(i int) error { return insertAll(db, list[i], runsPerCommit) })
}

func insertAll(db *sql.DB, w *writer, runsPerCommit int) error {
	if len(w.runs)%runsPerCommit != 0 {
		return errors.New("the runs do not divide into commits")
	}
	statement, err := db.Prepare(insertStatement(runsPerCommit * oplog.MaxRunOps))
	if err != nil {
		return err
	}
	defer statement.Close()
	position := 0
	for from := 0; from < len(w.runs); from += runsPerCommit {
		var values []any
		for _, run := range w.runs[from : from+runsPerCommit] {
			for _, op := range run.Ops {
				position++
				values = append(values, op.Book[:], position, op.Raw, op.Body)
			}
		}
		if _, err := statement.Exec(values...); err != nil {
			return err
		}
	}
	return nil
}

func insertStatement(rows int) string {
	var places []string
	for i := range rows {
		places = append(places, fmt.Sprintf("($%d,$%d,$%d,$%d)", 4*i+1, 4*i+2, 4*i+3, 4*i+4))
	}
	return "INSERT INTO bare VALUES " + strings.Join(places, ",")
}

// timed runs all writers at once and gives how many ops a second they wrote.
func timed(n int, work func(i int) error) (opsPerSecond float64, err error) {
	errs := make([]error, n)
	var all sync.WaitGroup
	began := time.Now()
	for i := range n {
		all.Add(1)
		go func() {
			defer all.Done()
			errs[i] = work(i)
		}()
	}
	all.Wait()
	took := time.Since(began)
	return float64(n*runsEach*oplog.MaxRunOps) / took.Seconds(), errors.Join(errs...)
}

func perSecond(rate float64) string { return fmt.Sprintf("%.0f ops/s", rate) }
