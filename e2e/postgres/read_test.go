package postgres_test

import (
	"bufio"
	"io"
	"strings"
	"testing"
)

func readFolder(t *testing.T, out io.Reader) string {
	t.Helper()
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if folder, found := strings.CutPrefix(lines.Text(), "folder "); found {
			return folder
		}
	}
	t.Fatalf("the child named no folder: %v", lines.Err())
	return ""
}
