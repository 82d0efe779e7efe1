package proc

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// patience bounds every wait for a server.
const patience = 60 * time.Second

// Server is one server process and where it stands. Kill and Stop end the
// process; Restart starts it again at the same address with the same database.
type Server struct {
	address string
	folder  string // its working folder, with the embedded database if any
	args    []string

	log *log

	mu     sync.Mutex
	cmd    *exec.Cmd
	exited chan struct{}
	err    error // why it exited; valid after exited is closed
}

// Start runs a server with the given flags until the test ends. Without
// -database it keeps the embedded one in a folder of the test.
func Start(t testing.TB, args ...string) *Server {
	t.Helper()
	s, err := Run(t.TempDir(), args...)
	if err != nil {
		t.Fatalf("server: %v", err)
	}
	t.Cleanup(func() {
		s.Kill()
		if t.Failed() {
			t.Logf("the log of the server at %s:\n%s", s.address, tail(s.Log(), 100))
		}
	})
	return s
}

// Run starts a server that works in folder, for callers that are no tests.
func Run(folder string, args ...string) (*Server, error) {
	s := &Server{folder: folder, args: args, log: &log{}}
	if !named(args, "database") {
		s.args = append(s.args, "-database", s.SQLite())
	}
	// A port that is free now may be taken a moment later: try a few.
	var err error
	for range 5 {
		if s.address, err = freeAddress(); err != nil {
			return nil, err
		}
		if err = s.Resume(); err == nil {
			return s, nil
		}
		if !strings.Contains(s.Log(), "in use") {
			return nil, err
		}
	}
	return nil, err
}

// Address is the host and port that the server listens on.
func (s *Server) Address() string { return s.address }

// URL is the address of a path on the server.
func (s *Server) URL(path string) string { return "http://" + s.address + path }

// SQLite is the path of the embedded database.
func (s *Server) SQLite() string { return filepath.Join(s.folder, "hushcup.sqlite") }

// Database is what the server was told to keep its books in.
func (s *Server) Database() string {
	for i, arg := range s.args {
		if strings.TrimLeft(arg, "-") == "database" && i+1 < len(s.args) {
			return s.args[i+1]
		}
	}
	return ""
}

// Folder is where the server works: its embedded database is in it.
func (s *Server) Folder() string { return s.folder }

// Log is everything that the server has said, through all its restarts.
func (s *Server) Log() string { return s.log.String() }

// PID is the id of the process that runs now.
func (s *Server) PID() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.cmd.Process.Pid
}

// Resume starts the process and waits until it is ready.
func (s *Server) Resume() error {
	program, err := Binary()
	if err != nil {
		return err
	}
	cmd := exec.Command(program, append([]string{"-listen", s.address}, s.args...)...)
	cmd.Dir = s.folder
	cmd.Stdout, cmd.Stderr = s.log, s.log
	cmd.Env = cleanEnvironment()
	if err := cmd.Start(); err != nil {
		return err
	}
	exited := make(chan struct{})
	s.mu.Lock()
	s.cmd, s.exited = cmd, exited
	s.mu.Unlock()
	go func() {
		err := cmd.Wait()
		s.mu.Lock()
		s.err = err
		s.mu.Unlock()
		close(exited)
	}()
	if err := s.waitReady(exited); err != nil {
		s.Kill()
		return err
	}
	return nil
}

// Restart starts the process again; the test fails where it does not come up.
func (s *Server) Restart(t testing.TB) {
	t.Helper()
	s.Kill()
	if err := s.Resume(); err != nil {
		t.Fatalf("server: restart: %v", err)
	}
}

// Kill ends the process at once, as a power cut would.
func (s *Server) Kill() {
	s.mu.Lock()
	cmd, exited := s.cmd, s.exited
	s.mu.Unlock()
	if cmd == nil {
		return
	}
	_ = cmd.Process.Kill()
	<-exited
}

// Stop asks the process to drain and end, and reports what its exit says.
func (s *Server) Stop() error {
	s.mu.Lock()
	cmd, exited := s.cmd, s.exited
	s.mu.Unlock()
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		return err
	}
	select {
	case <-exited:
		s.mu.Lock()
		defer s.mu.Unlock()
		return s.err
	case <-time.After(patience):
		s.Kill()
		return fmt.Errorf("the server did not drain within %v", patience)
	}
}

// Get fetches a path.
func (s *Server) Get(path string) (status int, body string, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, s.URL(path), nil)
	if err != nil {
		return 0, "", err
	}
	answer, err := http.DefaultClient.Do(request)
	if err != nil {
		return 0, "", err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	return answer.StatusCode, string(text), err
}

func (s *Server) waitReady(exited <-chan struct{}) error {
	deadline := time.After(patience)
	for {
		status, body, err := s.Get("/readyz")
		if err == nil && status == http.StatusOK {
			return nil
		}
		select {
		case <-exited:
			return fmt.Errorf("the server ended before it was ready:\n%s", tail(s.Log(), 20))
		case <-deadline:
			return fmt.Errorf("the server was not ready within %v (%d %q, %v):\n%s", patience, status, body, err, tail(s.Log(), 20))
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// Command runs the server's binary to its end, for subcommands and bad flags.
func Command(folder string, args ...string) (output string, exit int, err error) {
	program, err := Binary()
	if err != nil {
		return "", 0, err
	}
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Dir = folder
	cmd.Env = cleanEnvironment()
	out, err := cmd.CombinedOutput()
	var failed *exec.ExitError
	if err != nil && !errors.As(err, &failed) {
		return string(out), 0, err
	}
	return string(out), cmd.ProcessState.ExitCode(), ctx.Err()
}

// cleanEnvironment keeps a developer's own settings out of the tests.
func cleanEnvironment() []string {
	var env []string
	for _, setting := range os.Environ() {
		if !strings.HasPrefix(setting, "HUSHCUP_") {
			env = append(env, setting)
		}
	}
	return env
}

func named(args []string, flag string) bool {
	for _, arg := range args {
		name, _, _ := strings.Cut(strings.TrimLeft(arg, "-"), "=")
		if strings.HasPrefix(arg, "-") && name == flag {
			return true
		}
	}
	return false
}

func freeAddress() (string, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	defer l.Close()
	return l.Addr().String(), nil
}

func tail(text string, lines int) string {
	all := strings.Split(strings.TrimRight(text, "\n"), "\n")
	return strings.Join(all[max(0, len(all)-lines):], "\n")
}

// log is written by the process while tests read it.
type log struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *log) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *log) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}
