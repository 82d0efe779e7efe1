package browser

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
)

// Axe runs axe-core over the screen and fails the test on every serious or
// critical fault.
func (tab *Tab) Axe() {
	tab.t().Helper()
	faults, err := tab.axe()
	if crashed(err) { // it only reads
		faults, err = tab.axe()
	}
	if err != nil {
		tab.fail("axe-core: %v", err)
	}
	if len(faults) == 0 {
		return
	}
	picture, _ := tab.shoot("axe")
	for _, f := range faults {
		tab.t().Errorf("%s: axe-core at %s: %s (%s): %s\n\t%s\n\tpicture: %s",
			tab.phone.name, tab.Path(), f.ID, f.Impact, f.Help, strings.Join(f.Where, "\n\t"), picture)
	}
}

type fault struct {
	ID, Impact, Help string
	Where            []string
}

// The page cannot load axe-core by itself under its Content-Security-Policy;
// the debugger's evaluation is not bound by it.
const runAxe = `(async () => {
	// Text that is still fading in has not yet its contrast.
	await Promise.all(document.getAnimations()
		.filter(a => a.effect?.getComputedTiming().endTime !== Infinity)
		.map(a => a.finished.catch(() => {})));
	const found = await axe.run(document, { resultTypes: ["violations"] });
	return JSON.stringify(found.violations
		.filter(v => v.impact === "serious" || v.impact === "critical")
		.map(v => ({ id: v.id, impact: v.impact, help: v.help,
			where: v.nodes.map(n => n.html + " " + (n.any[0]?.message ?? n.all[0]?.message ?? n.none[0]?.message ?? "")) })));
})()`

func (tab *Tab) axe() ([]fault, error) {
	source, err := axeSource()
	if err != nil {
		return nil, err
	}
	var there bool
	if err := tab.Eval("typeof axe === 'object'", &there); err != nil {
		return nil, err
	}
	if !there {
		if err := tab.Eval(source+"\n;undefined", nil); err != nil {
			return nil, err
		}
	}
	var answer string
	if err := tab.Eval(runAxe, &answer); err != nil {
		return nil, err
	}
	var faults []fault
	return faults, json.Unmarshal([]byte(answer), &faults)
}

var axeSource = sync.OnceValues(func() (string, error) {
	_, here, _, _ := runtime.Caller(0)
	path := filepath.Join(filepath.Dir(here), "..", "..", "pwa", "node_modules", "axe-core", "axe.min.js")
	source, err := os.ReadFile(path)
	if err != nil {
		return "", fmt.Errorf("axe-core is not installed: run e2e/setup (%w)", err)
	}
	return string(source), nil
})
