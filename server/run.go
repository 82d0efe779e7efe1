package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"slices"

	"hushcup/server/store"
	"hushcup/sync/relay"
)

// program is everything that a run takes from its process.
type program struct {
	env            func(string) string
	stdout, stderr io.Writer
	dist           fs.FS // the built app
}

// run is everything but the process: commands, flags, and an error of one line when something is wrong.
func (p *program) run(ctx context.Context, args []string) error {
	command := "serve"
	if len(args) > 0 && slices.Contains([]string{"verify", "migrate", "backup"}, args[0]) {
		command, args = args[0], args[1:]
	}
	var s settings
	f := s.flags(p.stdout)
	force := -1
	if command == "migrate" {
		f.IntVar(&force, "force", -1, "after a migration that ended half-way: the `version` that the tables have; see the message that told you so")
	}
	to := ""
	if command == "backup" {
		f.StringVar(&to, "to", "", "the new `file` that the books are copied into")
	}
	if err := s.parse(f, args, p.env); err != nil {
		return err
	}
	log, err := newLog(p.stderr, s.logLevel)
	if err != nil {
		return err
	}
	switch command {
	case "verify":
		return verify(ctx, &s, p.stdout)
	case "migrate":
		return migrate(ctx, &s, force, p.stdout)
	case "backup":
		return backup(ctx, &s, to, p.stdout)
	}
	return p.serve(ctx, &s, log)
}

func newLog(w io.Writer, level string) (*slog.Logger, error) {
	var least slog.Level
	if err := least.UnmarshalText([]byte(level)); err != nil {
		return nil, fmt.Errorf("-log: %q is not debug, info, warn or error", level)
	}
	return slog.New(slog.NewTextHandler(w, &slog.HandlerOptions{Level: least})), nil
}

// openStore migrates and opens the database.
func openStore(ctx context.Context, s *settings) (*store.Store, error) {
	if err := store.Migrate(ctx, s.database); err != nil {
		return nil, unreachable(err)
	}
	books, err := store.Open(ctx, s.database)
	if err != nil {
		return nil, unreachable(err)
	}
	return books, nil
}

func unreachable(err error) error {
	if errors.Is(err, relay.ErrDown) {
		return fmt.Errorf("the database is not there: %w", err)
	}
	return fmt.Errorf("database: %w", err)
}

func migrate(ctx context.Context, s *settings, force int, stdout io.Writer) error {
	if force >= 0 {
		if err := store.Force(ctx, s.database, force); err != nil {
			return unreachable(err)
		}
		fmt.Fprintf(stdout, "the database now counts as version %d\n", force)
		return nil
	}
	if err := store.Migrate(ctx, s.database); err != nil {
		return unreachable(err)
	}
	fmt.Fprintf(stdout, "the database has version %d\n", store.Newest)
	return nil
}

func backup(ctx context.Context, s *settings, to string, stdout io.Writer) error {
	if to == "" {
		return errors.New("backup: say with -to into which new file (try -help)")
	}
	if err := mustExist(s); err != nil {
		return err
	}
	if err := store.Backup(ctx, s.database, to); err != nil {
		return fmt.Errorf("backup: %w", err)
	}
	fmt.Fprintf(stdout, "the books are in %s\n", to)
	return nil
}

// mustExist keeps a command from making an empty file and finding no fault in it.
func mustExist(s *settings) error {
	if isFile(s.database) {
		if _, err := os.Stat(s.database); err != nil {
			return fmt.Errorf("the database is not there: %w", err)
		}
	}
	return nil
}
