package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"

	"github.com/golang-migrate/migrate/v4"
	"github.com/golang-migrate/migrate/v4/database"
	migratepostgres "github.com/golang-migrate/migrate/v4/database/postgres"
	migratesqlite "github.com/golang-migrate/migrate/v4/database/sqlite"
	"github.com/golang-migrate/migrate/v4/source"
	"github.com/golang-migrate/migrate/v4/source/iofs"

	"hushcup/migrations"
)

// Newest is the version that this program's tables have.
const Newest = 1

// DirtyError says that a migration ended half-way, and what to do.
type DirtyError struct{ Version int }

func (e *DirtyError) Error() string {
	return fmt.Sprintf("the database is dirty: migration %d ended half-way, and nothing was started. Make a backup, look whether the tables are "+
		"those before or those after it (migrations/), and say which: `server migrate -force %d` (before: it is tried again) or "+
		"`server migrate -force %d` (after)", e.Version, e.Version-1, e.Version)
}

// NewerError says that a newer server has changed the tables.
type NewerError struct{ Version int }

func (e *NewerError) Error() string {
	return fmt.Sprintf("the database's tables have version %d, and this server knows %d: start a newer server", e.Version, Newest)
}

// Migrate brings the tables to the newest version. Several servers may do so at once: one does the work, the others wait.
func Migrate(ctx context.Context, address string) error {
	// A database that needs nothing is only read: a server that runs beside this one is not disturbed. Whether one is dirty is
	// decided with the lock held, as it looks dirty while another server is at work.
	if version, dirty, err := Version(ctx, address); err == nil && !dirty && version >= Newest {
		return known(version)
	}
	return withMigrator(ctx, address, func(m *migrate.Migrate) error {
		err := m.Up()
		var halfway migrate.ErrDirty
		switch {
		case errors.As(err, &halfway):
			return &DirtyError{halfway.Version}
		case errors.Is(err, migrate.ErrNoChange):
			return nil
		}
		return err
	})
}

func known(version int) error {
	if version > Newest {
		return &NewerError{version}
	}
	return nil
}

// Force says which version the tables have, after somebody has looked.
func Force(ctx context.Context, address string, version int) error {
	if version < 0 || version > Newest {
		return fmt.Errorf("there is no version %d: this server knows 0 to %d", version, Newest)
	}
	if version == 0 {
		version = database.NilVersion
	}
	return withMigrator(ctx, address, func(m *migrate.Migrate) error { return m.Force(version) })
}

// Version tells which version the tables have, 0 for none, without changing anything.
func Version(ctx context.Context, address string) (version int, dirty bool, err error) {
	d := dialectOf(address)
	s, err := d.open(address)
	if errors.Is(err, os.ErrNotExist) {
		return 0, false, nil
	}
	if err != nil {
		return 0, false, err
	}
	defer s.Close()
	var rows []struct {
		Version int
		Dirty   bool
	}
	err = s.read.SelectContext(ctx, &rows, "SELECT version, dirty FROM schema_migrations")
	if err = d.classify(err); err != nil || len(rows) == 0 {
		return 0, false, err
	}
	if rows[0].Version < 0 {
		return 0, rows[0].Dirty, nil
	}
	return rows[0].Version, rows[0].Dirty, nil
}

func withMigrator(ctx context.Context, address string, work func(*migrate.Migrate) error) (err error) {
	files, db, driver, err := openMigrator(ctx, address)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, files.Close(), driver.Close(), db.Close()) }()
	m, err := migrate.NewWithInstance("files", files, "database", driver)
	if err != nil {
		return err
	}
	return work(m)
}

func openMigrator(ctx context.Context, address string) (source.Driver, *sql.DB, database.Driver, error) {
	if isPostgres(address) {
		return openPostgresMigrator(ctx, address)
	}
	return openSQLiteMigrator(ctx, address)
}

// openPostgresMigrator: the driver holds an advisory lock while it works, so a second server waits for the first.
func openPostgresMigrator(ctx context.Context, address string) (source.Driver, *sql.DB, database.Driver, error) {
	files, err := iofs.New(migrations.Files, "postgres")
	if err != nil {
		return nil, nil, nil, err
	}
	if address, err = withDefaults(address); err != nil {
		return nil, nil, nil, err
	}
	db, err := sql.Open("postgres", address)
	if err != nil {
		return nil, nil, nil, err
	}
	if err := db.PingContext(ctx); err != nil {
		return nil, nil, nil, errors.Join(postgres{}.classify(err), db.Close())
	}
	driver, err := migratepostgres.WithInstance(db, &migratepostgres.Config{})
	if err != nil {
		return nil, nil, nil, errors.Join(err, db.Close())
	}
	return files, db, driver, nil
}

// openSQLiteMigrator holds a file beside the database while it works, as its driver knows no lock between processes: a second
// server waits there for the first.
func openSQLiteMigrator(ctx context.Context, address string) (source.Driver, *sql.DB, database.Driver, error) {
	if err := os.MkdirAll(filepath.Dir(address), 0o700); err != nil {
		return nil, nil, nil, err
	}
	if err := makePrivate(address); err != nil {
		return nil, nil, nil, err
	}
	files, err := iofs.New(migrations.Files, "sqlite")
	if err != nil {
		return nil, nil, nil, err
	}
	lock, err := lockBeside(ctx, address)
	if err != nil {
		return nil, nil, nil, err
	}
	db, err := sql.Open("sqlite", sqliteAddress(address, false))
	if err != nil {
		return nil, nil, nil, errors.Join(err, lock.Close())
	}
	driver, err := migratesqlite.WithInstance(db, &migratesqlite.Config{})
	if err != nil {
		return nil, nil, nil, errors.Join(sqlite{}.classify(err), db.Close(), lock.Close())
	}
	return files, lock, driver, nil
}

// lockBeside opens an empty database with an exclusive transaction; closing it, or the end of the process, ends the lock.
func lockBeside(ctx context.Context, address string) (*sql.DB, error) {
	q := url.Values{"_pragma": {"busy_timeout(30000)"}}
	u := url.URL{Scheme: "file", Opaque: (&url.URL{Path: address + "-lock"}).EscapedPath(), RawQuery: q.Encode()}
	lock, err := sql.Open("sqlite", u.String())
	if err != nil {
		return nil, err
	}
	lock.SetMaxOpenConns(1)
	if _, err := lock.ExecContext(ctx, "BEGIN EXCLUSIVE"); err != nil {
		return nil, errors.Join(sqlite{}.classify(err), lock.Close())
	}
	return lock, nil
}

// makePrivate makes the file, if it is not there, for its owner alone: what stands in it is sealed, but who is in which club
// with whom is nobody else's business.
func makePrivate(path string) error {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	return file.Close()
}
