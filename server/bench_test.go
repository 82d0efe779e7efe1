package main

import (
	"context"
	"database/sql"
	"fmt"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"hushcup/e2e/handmade"
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

const (
	ingestWriters = 8  // connections, each with a book of its own
	ingestRuns    = 30 // of 64 ops, under the limits of a day
	ingestWindow  = 16 // runs on their way unanswered
)

// writer has made everything that it will send before the clock starts.
type writer struct {
	book   *handmade.Book
	create oplog.Run
	runs   []oplog.Run
}

func makeWriters() []*writer {
	list := make([]*writer, ingestWriters)
	now := time.Now().UnixMilli()
	for i := range list {
		w := &writer{}
		w.book, w.create = handmade.NewBook(club.Notebook, handmade.NewDevice(), now)
		for range ingestRuns {
			w.runs = append(w.runs, w.book.Parts(now, oplog.MaxRunOps, 200))
		}
		list[i] = w
	}
	return list
}

// BenchmarkIngest compares how fast the server takes sealed ops over websockets, signatures, rules and durable commits
// included, with bare batched inserts of the same bytes into the same PostgreSQL, 64 rows a commit. "of-bare" is the ratio.
func BenchmarkIngest(b *testing.B) {
	writers := makeWriters()
	var bare, through time.Duration
	for b.Loop() { // by turns, since other programs on the machine come and go
		bare += bareInserts(b, writers)
		through += throughServer(b, writers)
	}
	ops := float64(b.N * ingestWriters * ingestRuns * oplog.MaxRunOps)
	b.ReportMetric(ops/through.Seconds(), "ops/s")
	b.ReportMetric(ops/bare.Seconds(), "bare-ops/s")
	b.ReportMetric(bare.Seconds()/through.Seconds(), "of-bare")
}

// all runs work for each writer at once, and gives the time.
func all(b *testing.B, writers []*writer, work func(i int) error) time.Duration {
	began := time.Now()
	var group sync.WaitGroup
	for i := range writers {
		group.Add(1)
		go func() {
			defer group.Done()
			if err := work(i); err != nil {
				b.Error(err)
			}
		}()
	}
	group.Wait()
	return time.Since(began)
}

func throughServer(b *testing.B, writers []*writer) time.Duration {
	s := start(b, "-database", freshPostgres(b))
	conns := make([]*handmade.Conn, len(writers))
	for i, w := range writers {
		conns[i] = dial(b, s, w.book.Device)
		if err := pushAll(conns[i], []oplog.Run{w.create}); err != nil {
			b.Fatal(err)
		}
	}
	defer s.stop()
	return all(b, writers, func(i int) error { return pushAll(conns[i], writers[i].runs) })
}

func pushAll(conn *handmade.Conn, runs []oplog.Run) error {
	sent := 0
	for acked := 0; acked < len(runs); acked++ {
		for ; sent < len(runs) && sent-acked < ingestWindow; sent++ {
			if err := conn.Push(runs[sent]); err != nil {
				return err
			}
		}
		answer, err := conn.Answer()
		if err != nil {
			return err
		}
		if _, ok := answer.(*wire.Ack); !ok {
			return fmt.Errorf("answered %T: %+v", answer, answer)
		}
	}
	return nil
}

func bareInserts(b *testing.B, writers []*writer) time.Duration {
	db, err := sql.Open("postgres", freshPostgres(b)+"&binary_parameters=yes")
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	db.SetMaxIdleConns(len(writers))
	if _, err := db.Exec("CREATE TABLE bare (book bytea, pos bigint, header bytea, body bytea, PRIMARY KEY (book, pos))"); err != nil {
		b.Fatal(err)
	}
	insert := "INSERT INTO bare VALUES " + strings.TrimSuffix(strings.Repeat("(?, ?, ?, ?), ", oplog.MaxRunOps), ", ")
	for n := 1; strings.Contains(insert, "?"); n++ {
		insert = strings.Replace(insert, "?", fmt.Sprintf("$%d", n), 1)
	}
	return all(b, writers, func(i int) error {
		pos := 0
		for _, run := range writers[i].runs {
			var args []any
			for j := range run.Ops {
				pos++
				args = append(args, writers[i].book.ID[:], pos, run.Ops[j].Raw, run.Ops[j].Body)
			}
			if _, err := db.ExecContext(context.Background(), insert, args...); err != nil {
				return err
			}
		}
		return nil
	})
}

// BenchmarkIdleConnections tells what one connection costs that has proved who it is, reads a book, and says nothing. The
// phones' ends live in this process too and are taken off by opening as many raw ends first.
func BenchmarkIdleConnections(b *testing.B) {
	const n = 500
	for b.Loop() {
		s := start(b, "-database", sqlite(b))
		book := newNotebook(b, s)
		idle := func(count int) {
			for range count {
				conn := dial(b, s, book.Device)
				if err := conn.Send(&wire.Subscribe{Book: book.ID}); err != nil {
					b.Fatal(err)
				}
				entries(b, conn, 1)
			}
		}
		idle(50)
		before := inUse()
		idle(n)
		b.ReportMetric(float64(inUse()-before)/n, "B/connection-both-ends")
		s.stop()
	}
}

// inUse is heap and stacks after everything that is garbage is gone.
func inUse() int64 {
	time.Sleep(200 * time.Millisecond)
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapInuse + m.StackInuse)
}
