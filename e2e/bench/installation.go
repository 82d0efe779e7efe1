package main

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"hushcup/e2e/proc"
	"hushcup/pwa/app"
)

// installation is a server, and a Chromium profile on the disk in which the app
// is installed and has a full notebook.
type installation struct {
	server *proc.Server
	home   string
}

// installed makes the installation that all sections share, the first time.
var installed = sync.OnceValues(func() (*installation, error) {
	device, err := installWith(brewsInNotebook)
	if err == nil {
		removals = append(removals, device.remove)
	}
	return device, err
})

// installWith makes an installation with so many brews.
func installWith(brews int) (*installation, error) {
	home, err := os.MkdirTemp("", "hushcup-bench-")
	if err != nil {
		return nil, err
	}
	device := &installation{home: home}
	folder := filepath.Join(home, "server")
	if err = os.Mkdir(folder, 0o700); err == nil {
		device.server, err = proc.Run(folder, generous...)
	}
	if err == nil {
		err = install(device.server, home, brews)
	}
	if err != nil {
		device.remove()
		return nil, fmt.Errorf("the app is not installed: %w", err)
	}
	return device, nil
}

// removals clear up what sections share.
var removals []func()

func (i *installation) remove() {
	if i.server != nil {
		i.server.Kill()
	}
	os.RemoveAll(i.home)
}

func install(server *proc.Server, home string, brews int) error {
	records, err := fillNotebook(server.URL(""), brews)
	if err != nil {
		return err
	}
	phone, err := openPhone(home)
	if err != nil {
		return err
	}
	defer phone.close()
	tab, err := phone.tab("")
	if err != nil {
		return err
	}
	// Opened once for the service worker to take everything in, then once more
	// for it to serve what it took.
	if err := tab.open(server.URL("/bench")); err != nil {
		return err
	}
	if err := tab.until(`!!navigator.serviceWorker.controller && document.body.innerText.length > 100`); err != nil {
		return err
	}
	// A page of the server's that starts no worker.
	if err := tab.open(server.URL("/healthz")); err != nil {
		return err
	}
	if err := putRecords(tab, records); err != nil {
		return fmt.Errorf("the notebook does not go into the browser: %w", err)
	}
	if err := tab.open(server.URL("/bench")); err != nil {
		return err
	}
	if err := tab.until(fmt.Sprintf(`document.body.innerText.includes("%d") || document.querySelectorAll(".list-row").length === %[1]d`, brews)); err != nil {
		return err
	}
	// What is remembered for the next start is written at a slow beat; a
	// compiled core is kept once it has run for a while.
	time.Sleep(5 * time.Second)
	return nil
}

// putRecords writes what the worker would have written.
func putRecords(tab *tab, records []app.StoredRecord) error {
	if err := tab.eval(`(async () => {
		const settled = request => new Promise((done, failed) => { request.onsuccess = () => done(request.result); request.onerror = request.onblocked = () => failed(request.error) });
		for (const { name } of await indexedDB.databases()) await settled(indexedDB.deleteDatabase(name));
		const opening = indexedDB.open("hushcup", 1);
		opening.onupgradeneeded = () => { opening.result.createObjectStore("records"); opening.result.createObjectStore("owner") };
		window.books = await settled(opening);
	})()`, nil); err != nil {
		return err
	}
	const together = 500
	for from := 0; from < len(records); from += together {
		list := map[string]string{}
		for _, record := range records[from:min(from+together, len(records))] {
			list[record.Key] = base64.StdEncoding.EncodeToString(record.Value)
		}
		text, err := json.Marshal(list)
		if err != nil {
			return err
		}
		if err := tab.eval(`new Promise((done, failed) => {
			const writing = books.transaction("records", "readwrite");
			for (const [key, value] of Object.entries(`+string(text)+`)) {
				writing.objectStore("records").put(Uint8Array.from(atob(value), c => c.charCodeAt(0)), key);
			}
			writing.oncomplete = () => done();
			writing.onabort = () => failed(writing.error);
		})`, nil); err != nil {
			return err
		}
	}
	return tab.eval("books.close()", nil)
}
