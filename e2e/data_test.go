package e2e

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// What one has goes out as a file without a network, and comes back on another
// phone: once, and with nothing lost.
func TestAFileGoesFromOnePhoneToAnother(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega, mira := e.phone("vega"), e.phone("mira")
	brewOwn(vega, "Orbital Blend", "bergamot ☕, مُرّ =1+2")
	saveWater(vega)
	vega.Offline(true)
	first := makeFile(t, vega) // the coffee, the water, the brew
	if len(first.Records) != 3 || !strings.Contains(string(first.Records[2]), "bergamot ☕, مُرّ =1+2") {
		t.Fatalf("the file holds %s", first.Records)
	}

	mira.Follow("/cupboard/data")
	mira.Tap("Make the file")
	mira.See("is ready")
	mira.Give(first.path)
	mira.See("3 things, from")
	mira.Shot("found")
	mira.Tap("Bring it in")
	mira.See("3 things came in.")
	mira.NotSee("is ready") // it would lack them
	mira.Shot("came in")
	mira.Give(first.path)
	mira.Tap("Bring it in")
	mira.See("Nothing came in.")
	mira.See("3 were here already, and stay as they are.")
	mira.Follow("/bench/log")
	mira.See("Orbital Blend")
	mira.Reopen("/cupboard/data")
	second := makeFile(t, mira)
	if !equalRecords(first, second) {
		t.Errorf("another phone's file holds\n%s, not\n%s", second.Records, first.Records)
	}
}

// saved is a file of one's data as a phone made it.
type saved struct {
	Format  string            `json:"format"`
	Major   int               `json:"major"`
	Records []json.RawMessage `json:"records"`
	path    string
}

func makeFile(t *testing.T, p *browser.Phone) (file saved) {
	t.Helper()
	folder := p.Downloads()
	p.Follow("/cupboard/data")
	p.Tap("Make the file")
	p.See("is ready")
	p.Shot("the file is ready")
	p.Tap("Save it to this device")
	path, content := p.Downloaded(folder, ".json")
	if err := json.Unmarshal(content, &file); err != nil || file.Format != "hushcup notebook" || file.Major != 1 {
		t.Fatalf("the file is %q: %v", content, err)
	}
	file.path = path
	return file
}

func equalRecords(a, b saved) bool {
	if len(a.Records) != len(b.Records) {
		return false
	}
	for i := range a.Records {
		if !bytes.Equal(a.Records[i], b.Records[i]) {
			return false
		}
	}
	return true
}

// A file that cannot be read is told in a sentence, and nothing changes.
func TestBadFilesAreToldAndChangeNothing(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	saveWater(vega)
	whole, err := os.ReadFile(makeFile(t, vega).path)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	vega.Follow("/cupboard")
	vega.Follow("/cupboard/data")
	for name, bad := range map[string]struct{ content, says string }{
		"cut-off.json":  {string(whole[:len(whole)/2]), "This file is cut off or damaged."},
		"foreign.json":  {`{"coffees":[]}`, "This file is not from Hushcup."},
		"table.json":    {"planned,dose\n2026,15\n", "This is not a Hushcup file."},
		"empty.json":    {"", "This file is empty."},
		"newer.json":    {strings.Replace(string(whole), `"major":1`, `"major":2`, 1), "This file was made by a newer version of the app."},
		"nonsense.json": {strings.Replace(string(whole), `"calcium":31.5`, `"calcium":-4`, 1), "One thing, from"},
	} {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(bad.content), 0o600); err != nil {
			t.Fatal(err)
		}
		vega.Give(path)
		vega.See(bad.says)
		if name != "nonsense.json" {
			vega.Shot(name)
			vega.See("Nothing was changed here.")
			continue
		}
		vega.Tap("Bring it in")
		vega.See("One cannot be, and was left out:")
		vega.See("calcium")
		vega.Shot(name)
	}
	vega.Follow("/cupboard")
	vega.Follow("/cupboard/data")
	vega.See("one thing of the Cupboard, no brews")
}

// Brews come out as a table that a spreadsheet opens.
func TestBrewsAsATable(t *testing.T) {
	e := newEvening(t, proc.Start(t))
	vega := e.phone("vega")
	brewOwn(vega, "Orbital Blend", "=HYPERLINK(1)")
	folder := vega.Downloads()
	vega.Follow("/cupboard/data")
	vega.Tap("semicolon between cells, decimal comma")
	vega.Tap("Brews")
	vega.See("is ready")
	vega.Tap("Save it to this device")
	_, content := vega.Downloaded(folder, ".csv")
	text := string(content)
	if !strings.HasPrefix(text, "\ufeffid;planned;") || !strings.Contains(text, ";Orbital Blend;") || !strings.HasSuffix(text, ";'=HYPERLINK(1)\r\n") {
		t.Errorf("the table is %q", text)
	}
}

// saveWater reads a water from its label.
func saveWater(p *browser.Phone) {
	p.Follow("/cupboard/have/water/new")
	p.Fill("Name", "spring below the dome")
	p.Fill("Calcium, Ca", "31,5")
	p.Fill("Magnesium, Mg", "8")
	p.Fill("Bicarbonate, HCO₃", "92")
	p.See("trade range, 2018")
	p.Tap("Save")
	p.NotSee("From the label, mg/L")
}
