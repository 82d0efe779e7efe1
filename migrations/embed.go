// Package migrations holds the tables, for PostgreSQL and for SQLite, as golang-migrate reads them: NUMBER_NAME.up.sql and
// .down.sql, one folder for each kind of database. Both folders have the same numbers and the same columns.
//
// Everything is keyed by book first, since books share nothing with each other: books and entries could be distributed by
// book id without a change.
package migrations

import "embed"

// Files has the folders postgres and sqlite.
//
//go:embed postgres/*.sql sqlite/*.sql
var Files embed.FS
