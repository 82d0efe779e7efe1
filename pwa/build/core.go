package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// inlined are the packages in which the compiler inlines. Without it the download is a sixth smaller; with it these run up to twice
// as fast, and a start has fewer functions to make ready: a browser compiles each when it is called first. They are those of which
// that gains most for their size.
var inlined = []string{
	"runtime", "internal/runtime/...", "internal/abi", "internal/bytealg", "internal/byteorder", "internal/reflectlite", "internal/sync",
	"bytes", "encoding/binary", "math/bits", "reflect", "slices", "sort", "strings", "sync", "sync/atomic", "syscall/js",
	"crypto/...", "golang.org/x/crypto/...",
	"hushcup/sync/codec", "hushcup/sync/oplog", "hushcup/sync/seal", "hushcup/sync/wire",
}

// compileCore builds the Go core for the browser and returns its name in dist.
func (h house) compileCore() (string, error) {
	raw := filepath.Join(h.dist, "core.wasm.part")
	defer os.Remove(raw)
	if err := compile(h.pwa, "./wasm", raw); err != nil {
		return "", fmt.Errorf("compile the core: %w", err)
	}
	linked, err := os.ReadFile(raw)
	if err != nil {
		return "", err
	}
	quiet, idle, err := silence(linked)
	if err == nil && len(idle) > 0 {
		err = fmt.Errorf("the Go toolchain's packages are not as known, so pwa/build/silence.go has to be adapted: no function is called %q", idle)
	}
	if err != nil {
		return "", err
	}
	content, err := strip(quiet)
	if err != nil {
		return "", err
	}
	name := hashedName("core.wasm", content)
	return name, h.write(name, content)
}

// compile links a command for the browser.
func compile(folder, command, target string) error {
	args := []string{"build", "-trimpath", "-ldflags=-w", "-gcflags=all=-l"}
	for _, packages := range inlined {
		args = append(args, "-gcflags="+packages+"=")
	}
	cmd := exec.Command("go", append(args, "-o", target, command)...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0")
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, bytes.TrimSpace(out))
	}
	return nil
}

// goRuntime is the page of JavaScript that the Go toolchain ships for starting its WebAssembly. It must be of the very
// version that compiled the core, so it is taken from there at every build.
func goRuntime() (string, error) {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "", fmt.Errorf("ask go for its folder: %w", err)
	}
	file := filepath.Join(strings.TrimSpace(string(out)), "lib", "wasm", "wasm_exec.js")
	if _, err := os.Stat(file); err != nil {
		return "", fmt.Errorf("the Go toolchain has no %q: %w", "lib/wasm/wasm_exec.js", err)
	}
	return file, nil
}

// hashedName puts 40 bits of the content's SHA-256 into a file name: name-HASH.ext.
func hashedName(name string, content []byte) string {
	sum := sha256.Sum256(content)
	ext := filepath.Ext(name)
	return strings.TrimSuffix(name, ext) + "-" + base32.StdEncoding.EncodeToString(sum[:5]) + ext
}

// write puts a file into dist, whole or not at all, and leaves an equal one untouched.
func (h house) write(name string, content []byte) error {
	target := filepath.Join(h.dist, name)
	if have, err := os.ReadFile(target); err == nil && bytes.Equal(have, content) {
		return nil
	}
	part := target + ".part"
	if err := os.WriteFile(part, content, 0o644); err != nil {
		return err
	}
	return os.Rename(part, target)
}
