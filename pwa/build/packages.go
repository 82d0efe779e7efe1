package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

// fetchPackages runs npm ci when the packages present are not those of the lock file. The mark is written last: an
// interrupted npm ci leaves no mark and is done again.
func (h house) fetchPackages() error {
	mark := filepath.Join(h.pwa, "node_modules", ".hushcup-lock")
	lock, err := os.ReadFile(filepath.Join(h.pwa, "package-lock.json"))
	if err != nil {
		return err
	}
	sum := sha256.Sum256(lock)
	want := []byte(hex.EncodeToString(sum[:]))
	if have, err := os.ReadFile(mark); err == nil && bytes.Equal(have, want) {
		return nil
	}
	if _, err := exec.LookPath("npm"); err != nil {
		return fmt.Errorf("npm is missing: install Node 20 with npm")
	}
	fmt.Println("npm ci")
	if err := h.command("npm", "ci"); err != nil {
		return err
	}
	return os.WriteFile(mark, want, 0o644)
}

// command runs a program in the app's folder and shows what it said only when it failed.
func (h house) command(name string, args ...string) error {
	cmd := exec.Command(name, args...)
	cmd.Dir = h.pwa
	out, err := cmd.CombinedOutput()
	if err != nil {
		return fmt.Errorf("%s: %w\n%s", filepath.Base(name), err, bytes.TrimSpace(out))
	}
	return nil
}
