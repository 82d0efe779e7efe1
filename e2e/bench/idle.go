package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"time"

	"hushcup/e2e/handmade"
	"hushcup/e2e/proc"
	"hushcup/sync/club"
	"hushcup/sync/oplog"
	"hushcup/sync/wire"
)

const (
	idleConnections = 1000
	idleBudget      = 30_000 // bytes
)

// idle measures what the server's memory grows by with connections that have
// proved who they are, watch a book, and say nothing.
func idle() ([]figure, error) {
	folder, err := os.MkdirTemp("", "hushcup-bench-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	server, err := proc.Run(folder)
	if err != nil {
		return nil, err
	}
	defer server.Kill()

	device := handmade.NewDevice()
	book, create := handmade.NewBook(club.Notebook, device, time.Now().UnixMilli())
	var conns []*handmade.Conn
	defer func() {
		for _, conn := range conns {
			conn.Close()
		}
	}()
	open := func(n int) error {
		for range n {
			conn, _, err := handmade.DialAs(server.Address(), device)
			if err != nil {
				return err
			}
			conns = append(conns, conn)
			if len(conns) == 1 {
				if err := pushAll(conn, []oplog.Run{create}); err != nil {
					return err
				}
			}
			if err := conn.Send(&wire.Subscribe{Book: book.ID}); err != nil {
				return err
			}
			if _, err := conn.Read(); err != nil { // its entries
				return err
			}
		}
		return nil
	}
	// The first hundred grow what all connections share.
	if err := open(100); err != nil {
		return nil, err
	}
	before, err := settled(server.PID())
	if err != nil {
		return nil, err
	}
	if err := open(idleConnections); err != nil {
		return nil, err
	}
	after, err := settled(server.PID())
	if err != nil {
		return nil, err
	}
	each := (after - before) / idleConnections
	return []figure{{name: "memory per idle connection", measured: kilobytes(each), budget: "<= " + kilobytes(idleBudget),
		within: each <= idleBudget, note: fmt.Sprintf("resident, over %d connections", idleConnections)}}, nil
}

// settled is the resident memory of a process once it has stopped changing.
func settled(pid int) (int, error) {
	last := 0
	for range 20 {
		time.Sleep(500 * time.Millisecond)
		now, err := resident(pid)
		if err != nil {
			return 0, err
		}
		if abs(now-last) < 64<<10 {
			return now, nil
		}
		last = now
	}
	return last, nil
}

func resident(pid int) (int, error) {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0, fmt.Errorf("memory is read from /proc, which only Linux has: %w", err)
	}
	for _, line := range strings.Split(string(status), "\n") {
		if value, found := strings.CutPrefix(line, "VmRSS:"); found {
			n, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(value, "kB")))
			return n << 10, err
		}
	}
	return 0, fmt.Errorf("process %d has no VmRSS", pid)
}

func abs(n int) int { return max(n, -n) }
