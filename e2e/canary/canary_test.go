package canary_test

import (
	"bytes"
	"crypto/sha256"
	"database/sql"
	"encoding/base32"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	_ "modernc.org/sqlite"

	"hushcup/e2e/canary"
)

var secret = []byte("redcurrant and Ärger, \"quoted\"")

func net(t *testing.T) *canary.Net {
	t.Helper()
	n := canary.New()
	if err := n.Add("note", secret); err != nil {
		t.Fatal(err)
	}
	return n
}

func TestASecretIsFoundInEveryDress(t *testing.T) {
	quoted, _ := json.Marshal(map[string]string{"note": string(secret)})
	for name, dressed := range map[string]string{
		"plain":  string(secret),
		"hex":    hex.EncodeToString(secret),
		"dump":   fmt.Sprintf(`\x%x`, secret),
		"HEX":    fmt.Sprintf("%X", secret),
		"bytes":  fmt.Sprint(secret),
		"array":  fmt.Sprintf("%d", secret),
		"base64": base64.StdEncoding.EncodeToString(secret),
		"url":    base64.RawURLEncoding.EncodeToString(secret),
		"base32": base32.StdEncoding.EncodeToString(secret),
		"JSON":   string(quoted),
	} {
		for shift := range 8 {
			data := append(bytes.Repeat([]byte("x"), shift), dressed...)
			data = append(data, "tail"...)
			if len(net(t).Search(name, data)) == 0 {
				t.Errorf("%s, at offset %d, is not found", name, shift)
			}
		}
	}
}

func TestASecretIsFoundInsideAnEncodedWhole(t *testing.T) {
	for shift := range 15 {
		whole := append(bytes.Repeat([]byte{0xA7}, shift), secret...)
		whole = append(whole, bytes.Repeat([]byte{0x5C}, 7)...)
		for name, data := range map[string]string{
			"base64": base64.StdEncoding.EncodeToString(whole),
			"url":    base64.URLEncoding.EncodeToString(whole),
			"base32": base32.StdEncoding.EncodeToString(whole),
			"hex32":  base32.HexEncoding.EncodeToString(whole),
			"hex":    hex.EncodeToString(whole),
		} {
			if len(net(t).Search(name, []byte(data))) == 0 {
				t.Errorf("in %s, behind %d other bytes, it is not found", name, shift)
			}
		}
	}
}

func TestNothingIsFoundInNoise(t *testing.T) {
	n := net(t)
	key := sha256.Sum256([]byte("a key"))
	if err := n.Add("key", key[:]); err != nil {
		t.Fatal(err)
	}
	noise := make([]byte, 0, 4<<20)
	for block := sha256.Sum256(nil); len(noise) < 4<<20; block = sha256.Sum256(block[:]) {
		noise = append(noise, block[:]...)
	}
	if found := n.Search("noise", noise); len(found) > 0 {
		t.Errorf("found %v", found)
	}
}

func TestAShortSecretIsRefused(t *testing.T) {
	if err := canary.New().Add("code", []byte("417")); err == nil {
		t.Error("three bytes would be found anywhere")
	}
}

func TestFoldersAndRowsAreSearched(t *testing.T) {
	folder := t.TempDir()
	if err := os.MkdirAll(filepath.Join(folder, "deep", "down"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "deep", "down", "log"), append([]byte("says "), secret...), 0o644); err != nil {
		t.Fatal(err)
	}
	found, searched, err := net(t).SearchFolder(folder, nil)
	if err != nil || len(found) != 1 || searched == 0 {
		t.Errorf("in the folder: %v, %d bytes, %v", found, searched, err)
	}

	db, err := sql.Open("sqlite", filepath.Join(folder, "db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec("CREATE TABLE entries (n int, body blob)"); err != nil {
		t.Fatal(err)
	}
	// Longer than a page, so that the file holds it in pieces.
	if _, err := db.Exec("INSERT INTO entries VALUES (1, ?)", append(make([]byte, 20_000), secret...)); err != nil {
		t.Fatal(err)
	}
	found, _, err = net(t).SearchRows(db, canary.TablesOfSQLite)
	if err != nil || len(found) != 1 {
		t.Errorf("in the rows: %v, %v", found, err)
	}
}
