package postgres

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
)

var errNoPrograms = errors.New("PostgreSQL's server programs (initdb, postgres, pg_dump) are not on this machine: " +
	"run e2e/setup, or set HUSHCUP_POSTGRES_BIN to their folder")

// findPrograms looks where Debian puts them (never on PATH there), newest
// version first, and then on PATH.
func findPrograms() (folder string, err error) {
	if folder := os.Getenv("HUSHCUP_POSTGRES_BIN"); folder != "" {
		if !holdsPrograms(folder) {
			return "", errNoPrograms
		}
		return folder, nil
	}
	for _, pattern := range []string{
		"/usr/lib/postgresql/*/bin",
		"/usr/local/opt/postgresql*/bin",
		"/opt/homebrew/opt/postgresql*/bin",
	} {
		folders, _ := filepath.Glob(pattern)
		slices.Reverse(folders)
		if i := slices.IndexFunc(folders, holdsPrograms); i >= 0 {
			return folders[i], nil
		}
	}
	if initdb, err := exec.LookPath("initdb"); err == nil {
		// On PATH there may be links; the three stand together at the target.
		if target, err := filepath.EvalSymlinks(initdb); err == nil && holdsPrograms(filepath.Dir(target)) {
			return filepath.Dir(target), nil
		}
	}
	return "", errNoPrograms
}

func holdsPrograms(folder string) bool {
	for _, program := range []string{"initdb", "postgres", "pg_dump"} {
		info, err := os.Stat(filepath.Join(folder, program))
		if err != nil || info.IsDir() || info.Mode()&0o111 == 0 {
			return false
		}
	}
	return true
}
