package store

import (
	"context"
	"errors"
	"fmt"
	"os"
)

// Backup copies an SQLite database, which may be in use, into a new file. The file has its name only once it is whole and on
// the disk; an attempt that ends before leaves at most a file with ".part" behind.
func Backup(ctx context.Context, source, to string) error {
	if isPostgres(source) {
		return errors.New("a PostgreSQL database is copied with pg_dump")
	}
	if _, err := os.Lstat(to); err == nil {
		return fmt.Errorf("%q is there already", to)
	}
	s, err := sqlite{}.open(source)
	if err != nil {
		return err
	}
	defer s.Close()
	part := to + ".part"
	if err := os.RemoveAll(part); err != nil {
		return err
	}
	if err := makePrivate(part); err != nil {
		return err
	}
	if _, err := s.write.ExecContext(ctx, "VACUUM INTO ?", part); err != nil {
		return errors.Join(sqlite{}.classify(err), os.Remove(part))
	}
	if err := onDisk(part); err != nil {
		return err
	}
	return os.Rename(part, to)
}

func onDisk(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(file.Sync(), file.Close())
}
