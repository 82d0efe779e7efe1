package postgres

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync"
)

// script runs the server and waits for one word on its standard input. End of
// file is what it reads when the test binary has ended, even by a signal: then
// nobody is left to do it, and it stops the server and removes the folder.
//
// Arguments: postgres, folder, port.
const script = `
"$1" -D "$2/data" -p "$3" -k "$2" -c listen_addresses=127.0.0.1 \
	-c fsync=on -c synchronous_commit=on -c max_connections=200 >>"$2/log" 2>&1 </dev/null &
server=$!
read -r word
case $word in
crash) kill -QUIT "$server" ;;
*) kill -INT "$server" ;;
esac
wait "$server"
case $word in
keep | crash) ;;
*) rm -rf "$2" ;;
esac
`

// The words of the script. SIGINT is PostgreSQL's fast shutdown, SIGQUIT the
// one that leaves recovery to the next start.
const (
	wordKeep   = "keep"
	wordCrash  = "crash"
	wordRemove = "remove"
)

type supervisor struct {
	cmd   *exec.Cmd
	stdin io.WriteCloser
	ended sync.Once
}

func supervise(c *Cluster) (*supervisor, error) {
	// The log starts anew, so that an old complaint is not taken for a new one.
	if err := os.RemoveAll(c.logFile()); err != nil {
		return nil, err
	}
	cmd := exec.Command("/bin/sh", "-c", script, "sh",
		filepath.Join(c.programs, "postgres"), c.folder, strconv.Itoa(c.port))
	cmd.Dir = c.folder
	c.owner.run(cmd)
	stdin, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("start the server: %w", err)
	}
	return &supervisor{cmd: cmd, stdin: stdin}, nil
}

// end says the word and waits until the server is gone. Ending twice is fine.
func (s *supervisor) end(word string) {
	s.ended.Do(func() {
		_, _ = io.WriteString(s.stdin, word+"\n")
		_ = s.stdin.Close()
		_ = s.cmd.Wait()
	})
}
