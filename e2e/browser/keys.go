package browser

import (
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
)

// keys are those that a person without a pointer needs.
var keys = map[string]input.DispatchKeyEventParams{
	"Tab":    {Key: "Tab", Code: "Tab", WindowsVirtualKeyCode: 9},
	"Enter":  {Key: "Enter", Code: "Enter", WindowsVirtualKeyCode: 13, Text: "\r"},
	"Space":  {Key: " ", Code: "Space", WindowsVirtualKeyCode: 32, Text: " "},
	"Escape": {Key: "Escape", Code: "Escape", WindowsVirtualKeyCode: 27},
}

// Press presses a key and lets it go.
func (tab *Tab) Press(name string) {
	tab.t().Helper()
	key, known := keys[name]
	if !known {
		tab.fail("there is no key %q", name)
	}
	ctx, cancel := tab.brief()
	defer cancel()
	for _, what := range []input.DispatchKeyEventType{input.DispatchKeyEventTypeKeyDown, input.DispatchKeyEventTypeKeyUp} {
		key.Type = what
		_, err := call(ctx, input.DispatchKeyEvent, key)
		if crashed(err) {
			_ = tab.underWay("the key "+name, err)
			return
		}
		if err != nil {
			tab.fail("cannot press %q: %v", name, err)
		}
	}
}

// Still makes the system ask for little motion and for the dark theme.
func (tab *Tab) Still() {
	tab.t().Helper()
	err := tab.askFor(&emulation.MediaFeature{Name: "prefers-color-scheme", Value: "dark"},
		&emulation.MediaFeature{Name: "prefers-reduced-motion", Value: "reduce"})
	if err != nil {
		tab.fail("cannot ask for little motion: %v", err)
	}
}
