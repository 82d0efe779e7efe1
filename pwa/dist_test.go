package pwa

import (
	"encoding/json"
	"io/fs"
	"regexp"
	"strings"
	"testing"
)

func built(t *testing.T) fs.FS {
	t.Helper()
	if !Built() {
		t.Fatal("the app is not built: run e2e/setup (or go generate ./pwa)")
	}
	return Dist()
}

func read(t *testing.T, dist fs.FS, name string) string {
	t.Helper()
	content, err := fs.ReadFile(dist, name)
	if err != nil {
		t.Fatal(err)
	}
	return string(content)
}

func TestIndexNamesOnlyWhatIsThereAndHoldsNoScriptOfItsOwn(t *testing.T) {
	dist := built(t)
	index := read(t, dist, "index.html")
	names := regexp.MustCompile(`(?:src|href)="/([^"]+)"`).FindAllStringSubmatch(index, -1)
	if len(names) < 5 {
		t.Fatalf("index.html names %d files only", len(names))
	}
	for _, name := range names {
		if _, err := fs.Stat(dist, name[1]); err != nil {
			t.Errorf("index.html names %q: %v", name[1], err)
		}
	}
	if regexp.MustCompile(`<script(?:[^>]*)>[^<]|<style|\sstyle=|\son[a-z]+=|javascript:|%[a-z]+%`).MatchString(index) {
		t.Error("index.html has script or style of its own, or an unfilled name")
	}
}

func TestTheServiceWorkerKeepsEverythingForOfflineUse(t *testing.T) {
	dist := built(t)
	list := regexp.MustCompile(`\[\{url:[^\]]*\]`).FindString(read(t, dist, "sw.js"))
	list = regexp.MustCompile(`([{,])(url|revision):`).ReplaceAllString(list, `$1"$2":`)
	var entries []struct {
		URL      string
		Revision *string
	}
	if err := json.Unmarshal([]byte(list), &entries); err != nil {
		t.Fatalf("the list in sw.js: %v\n%s", err, list)
	}
	kept := map[string]bool{}
	for _, entry := range entries {
		name := strings.TrimPrefix(entry.URL, "/")
		kept[name] = true
		if _, err := fs.Stat(dist, name); err != nil {
			t.Errorf("kept for offline use, but not there: %v", err)
		}
		if hashed := strings.Contains(name, "-"); hashed == (entry.Revision != nil) {
			t.Errorf("%q must carry its content's hash in its name or beside it, and only once", name)
		}
	}
	files, err := fs.Glob(dist, "*")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		switch {
		case strings.HasPrefix(file, "."), strings.HasSuffix(file, ".br"), strings.HasSuffix(file, ".gz"), file == "sw.js":
		case !kept[file]:
			t.Errorf("%q is not kept for offline use", file)
		}
	}
}

func TestWhatShrinksStandsCompressedBesideItself(t *testing.T) {
	dist := built(t)
	for _, ending := range []string{"wasm", "js", "css", "html", "webmanifest"} {
		files, err := fs.Glob(dist, "*."+ending)
		if err != nil || len(files) == 0 {
			t.Fatalf("no .%s file in dist (%v)", ending, err)
		}
		for _, file := range files {
			for _, compressed := range []string{file + ".br", file + ".gz"} {
				if info, err := fs.Stat(dist, compressed); err != nil || info.Size() >= int64(len(read(t, dist, file))) {
					t.Errorf("%q is missing or no smaller than the file", compressed)
				}
			}
		}
	}
}
