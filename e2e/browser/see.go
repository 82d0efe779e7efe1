package browser

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// See waits until the text stands on the screen. Line breaks count as spaces.
func (tab *Tab) See(text string) {
	tab.t().Helper()
	tab.SeeWithin(tab.Patience, text)
}

// SeeWithin is See with its own patience.
func (tab *Tab) SeeWithin(patience time.Duration, text string) {
	tab.t().Helper()
	tab.waitFor(patience, fmt.Sprintf("%q to be seen", text), func() (bool, string) {
		return strings.Contains(tab.Text(), spaced(text)), "not there"
	})
}

// NotSee waits until the text does not stand on the screen (any more).
func (tab *Tab) NotSee(text string) {
	tab.t().Helper()
	tab.wait(fmt.Sprintf("%q to be gone", text), func() (bool, string) {
		return !strings.Contains(tab.Text(), spaced(text)), "still there"
	})
}

// SeeOneOf waits for any of the texts and tells which came.
func (tab *Tab) SeeOneOf(texts ...string) string {
	tab.t().Helper()
	found := ""
	tab.wait(fmt.Sprintf("one of %q to be seen", texts), func() (bool, string) {
		screen := tab.Text()
		for _, text := range texts {
			if strings.Contains(screen, spaced(text)) {
				found = text
				return true, ""
			}
		}
		return false, "none is there"
	})
	return found
}

// Sees reports whether the text stands on the screen now, without waiting.
func (tab *Tab) Sees(text string) bool { return strings.Contains(tab.Text(), spaced(text)) }

// Text is what can be read on the screen, with single spaces.
func (tab *Tab) Text() string {
	var text string
	if err := tab.look("document.body ? document.body.innerText : ''", &text); err != nil {
		return ""
	}
	return spaced(text)
}

func spaced(text string) string { return strings.Join(strings.Fields(text), " ") }

func (tab *Tab) t() testing.TB { return tab.phone.b.t }

// fail ends the test with what the phone showed.
func (tab *Tab) fail(format string, args ...any) {
	tab.t().Helper()
	what := fmt.Sprintf(format, args...)
	picture, text := "no picture", "no text"
	if _, fell := tab.fallen(); fell {
		picture = "the tab has crashed; Chromium says:\n" + tab.phone.b.said.String()
	} else {
		if path, err := tab.shoot("failed"); err == nil {
			picture = path
		}
		text = tab.Text()
	}
	tab.t().Fatalf("%s: %s\n\tpicture: %s\n\ton the screen: %s", tab.phone.name, what, picture, text)
}
