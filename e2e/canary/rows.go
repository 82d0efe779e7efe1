package canary

import (
	"database/sql"
	"fmt"
)

// SearchRows searches every value of every table, as the database gives it: a
// file may hold a value compressed or in pieces. The query names the tables.
func (n *Net) SearchRows(db *sql.DB, tables string) (found []Finding, searched int64, err error) {
	names, err := column(db, tables)
	if err != nil {
		return nil, 0, err
	}
	for _, table := range names {
		more, size, err := n.searchTable(db, table)
		if err != nil {
			return nil, 0, fmt.Errorf("table %q: %w", table, err)
		}
		found, searched = append(found, more...), searched+size
	}
	return found, searched, nil
}

// The queries that name the tables of the two databases.
const (
	TablesOfSQLite     = `SELECT name FROM sqlite_master WHERE type = 'table'`
	TablesOfPostgreSQL = `SELECT quote_ident(schemaname) || '.' || quote_ident(tablename) FROM pg_tables WHERE schemaname NOT IN ('pg_catalog', 'information_schema')`
)

func column(db *sql.DB, query string) (values []string, err error) {
	rows, err := db.Query(query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var value string
		if err := rows.Scan(&value); err != nil {
			return nil, err
		}
		values = append(values, value)
	}
	return values, rows.Err()
}

func (n *Net) searchTable(db *sql.DB, table string) (found []Finding, searched int64, err error) {
	rows, err := db.Query("SELECT * FROM " + table)
	if err != nil {
		return nil, 0, err
	}
	defer rows.Close()
	columns, err := rows.Columns()
	if err != nil {
		return nil, 0, err
	}
	values := make([]sql.RawBytes, len(columns))
	places := make([]any, len(columns))
	for i := range values {
		places[i] = &values[i]
	}
	for row := 1; rows.Next(); row++ {
		if err := rows.Scan(places...); err != nil {
			return nil, 0, err
		}
		for i, value := range values {
			searched += int64(len(value))
			found = append(found, n.Search(fmt.Sprintf("%s.%s, row %d", table, columns[i], row), value)...)
		}
	}
	return found, searched, rows.Err()
}
