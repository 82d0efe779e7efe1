package browser_test

import (
	"fmt"
	"os"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"

	"hushcup/e2e/browser"
)

// mustFail runs a test of the practice page and returns what it complained
// about; a test that is content is the failure.
func mustFail(t *testing.T, test func(t testing.TB)) string {
	t.Helper()
	inner := overhear(t, test)
	if len(inner.said) == 0 {
		t.Fatal("nothing was complained about")
	}
	return strings.Join(inner.said, "\n")
}

// overhear runs a test and keeps what it says.
func overhear(t *testing.T, test func(t testing.TB)) *complainer {
	inner := &complainer{TB: t}
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer inner.end()
		test(inner)
	}()
	<-done
	return inner
}

// complainer keeps the failures that the harness reports, and what it logs.
type complainer struct {
	testing.TB
	said     []string
	cleanups []func()

	mu     sync.Mutex
	logged []string
}

func (c *complainer) Helper()          {}
func (c *complainer) Cleanup(f func()) { c.cleanups = append(c.cleanups, f) }
func (c *complainer) Logf(format string, args ...any) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.logged = append(c.logged, fmt.Sprintf(format, args...))
}
func (c *complainer) Errorf(format string, args ...any) {
	c.said = append(c.said, fmt.Sprintf(format, args...))
}
func (c *complainer) Fatalf(format string, args ...any) {
	c.Errorf(format, args...)
	runtime.Goexit()
}

func (c *complainer) end() {
	for i := len(c.cleanups) - 1; i >= 0; i-- {
		c.cleanups[i]()
	}
}

func practice(t testing.TB, server string) *browser.Phone {
	phone := browser.Launch(t).Phone("vega", server)
	phone.Open("/")
	phone.See("Practice page")
	return phone
}

func TestConsoleErrorsFail(t *testing.T) {
	server := serve(t)
	for name, button := range map[string]string{
		"the page complains":   "Complain",
		"the worker complains": "Let the worker complain",
	} {
		said := mustFail(t, func(inner testing.TB) {
			phone := practice(inner, server)
			phone.See("worker: hears")
			phone.Tap(button)
			phone.Tap("Save the brew")
			phone.See("decaf unsaid")
			phone.Reload()
			phone.See("worker: hears")
		})
		if !strings.Contains(said, name) {
			t.Errorf("the complaint %q is missing in %q", name, said)
		}
	}
}

func TestAllowedConsoleErrorsPass(t *testing.T) {
	phone := open(t)
	phone.AllowErrors("the page complains")
	phone.Tap("Complain")
	phone.See("worker: hears")
}

func TestAMissingTextFailsWithPictureAndText(t *testing.T) {
	server := serve(t)
	said := mustFail(t, func(inner testing.TB) {
		practice(inner, server).SeeWithin(0, "a unicorn")
	})
	for _, part := range []string{`"a unicorn" to be seen`, "on the screen: Practice page", "-failed-390.png"} {
		if !strings.Contains(said, part) {
			t.Errorf("%q is missing in %q", part, said)
		}
	}
	picture := regexp.MustCompile(`picture: (\S+)`).FindStringSubmatch(said)
	if picture == nil {
		t.Fatal("no picture is named")
	}
	if _, err := os.Stat(picture[1]); err != nil {
		t.Error(err)
	}
}

func TestAxeFindsAFault(t *testing.T) {
	server := serve(t)
	open(t).Axe()
	said := mustFail(t, func(inner testing.TB) {
		phone := practice(inner, server)
		if err := phone.Eval(`document.querySelector("label").replaceWith(document.getElementById("dose"))`, nil); err != nil {
			inner.Fatalf("%v", err)
		}
		phone.Axe()
	})
	if !strings.Contains(said, "label (critical)") {
		t.Errorf("the missing label is not named in %q", said)
	}
}

func TestWhatIsCoveredOrAmbiguousCannotBeTapped(t *testing.T) {
	server := serve(t)
	for button, reason := range map[string]string{
		"Under glass": "covered by <div class=glass>",
		"Guess":       "it could be any of",
		"Levitate":    "there are only",
	} {
		said := mustFail(t, func(inner testing.TB) {
			phone := practice(inner, server)
			phone.Patience = 0
			phone.Tap(button)
		})
		if !strings.Contains(said, reason) {
			t.Errorf("tapping %q: %q is missing in %q", button, reason, said)
		}
	}
}
