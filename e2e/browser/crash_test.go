package browser_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hushcup/e2e/browser"
)

// content fails the test if what ran inside of it complained, and returns its log.
func content(t *testing.T, inner *complainer) string {
	t.Helper()
	if len(inner.said) > 0 {
		t.Fatalf("it complained: %q", inner.said)
	}
	return strings.Join(inner.logged, "\n")
}

// differ gives the page a headline that goes with it: the old one comes back only
// with a new page.
func differ(phone *browser.Phone) {
	_ = phone.Eval(`document.querySelector("h1").textContent = "Before the crash"`, nil)
	phone.See("Before the crash")
}

func TestOneCrashOfChromiumIsSurvivedAndLogged(t *testing.T) {
	server := serve(t)
	inner := overhear(t, func(inner testing.TB) {
		phone := practice(inner, server)
		differ(phone)
		go phone.CrashByItself()
		phone.See("Practice page")
		phone.NotSee("Before the crash")
		phone.Fill("Dose", "15,5")
		phone.Tap("Save the brew")
		phone.See("kept: 15,5")
		phone.KillTab() // is asked for: it does not count
		phone.Reopen("/")
		phone.See("kept: 15,5")
	})
	log := content(t, inner)
	for _, part := range []string{"vega", server, "ended by itself (crashed, ", "fault of Chromium", "forgiven once"} {
		if !strings.Contains(log, part) {
			t.Errorf("%q is missing in the log %q", part, log)
		}
	}
	if len(inner.logged) != 1 {
		t.Errorf("logged %d times: %s", len(inner.logged), log)
	}
}

func TestAPhoneThatNobodyLooksAtIsOpenedAgain(t *testing.T) {
	server := serve(t)
	content(t, overhear(t, func(inner testing.TB) {
		b := browser.Launch(inner)
		vega, mira := b.Phone("vega", server), b.Phone("mira", server)
		vega.Open("/")
		mira.Open("/")
		vega.See("worker: hears")
		vega.CrashByItself()
		mira.See("Practice page")
		if vega.HasFallen() {
			inner.Errorf("vega still lies where it fell")
		}
	}))
}

func TestASecondCrashFailsWithOneLine(t *testing.T) {
	server := serve(t)
	inner := overhear(t, func(inner testing.TB) {
		phone := practice(inner, server)
		differ(phone)
		phone.CrashByItself()
		phone.See("Practice page")
		go phone.CrashByItself()
		phone.See("a unicorn")
	})
	if len(inner.said) != 1 || !strings.Contains(inner.said[0], "this is the second after") {
		t.Errorf("it says %q", inner.said)
	}
}

func TestACrashThatNobodyMetIsTold(t *testing.T) {
	server := serve(t)
	inner := overhear(t, func(inner testing.TB) { practice(inner, server).CrashByItself() })
	if log := content(t, inner); !strings.Contains(log, "ended by itself") {
		t.Errorf("the log says %q", log)
	}
	said := mustFail(t, func(inner testing.TB) {
		phone := practice(inner, server)
		phone.CrashByItself()
		phone.See("Practice page")
		phone.CrashByItself()
	})
	if !strings.Contains(said, "this is the second after") {
		t.Errorf("it says %q", said)
	}
}

func TestWhatAnAppCanCauseIsNotForgiven(t *testing.T) {
	server := serve(t)
	program, err := browser.Program()
	if err != nil {
		t.Fatal(err)
	}
	// So little memory that a page runs out of it soon.
	small := filepath.Join(t.TempDir(), "chromium")
	script := "#!/bin/sh\nexec '" + program + "' --js-flags=--max-old-space-size=64 \"$@\"\n"
	if err := os.WriteFile(small, []byte(script), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("HUSHCUP_CHROMIUM", small)
	for name, end := range map[string]func(*browser.Phone){
		"killed": func(phone *browser.Phone) { phone.EndFromOutside() },
		"greedy": func(phone *browser.Phone) { _ = phone.Eval("(() => { for (const all = [];;) all.push([{}]) })()", nil) },
	} {
		inner := overhear(t, func(inner testing.TB) {
			phone := practice(inner, server)
			end(phone)
			phone.See("Practice page")
		})
		if len(inner.said) != 1 || !strings.Contains(inner.said[0], "memory that ran out") {
			t.Errorf("%s: it says %q", name, inner.said)
		}
	}
}

func TestAnExpressionInFlightEndsWithTheTab(t *testing.T) {
	server := serve(t)
	content(t, overhear(t, func(inner testing.TB) {
		phone := practice(inner, server)
		answer := make(chan error)
		go func() { answer <- phone.Eval("window.flying = true; new Promise(() => {})", nil) }()
		for flying := false; !flying; {
			if err := phone.Eval("window.flying === true", &flying); err != nil {
				inner.Fatalf("%v", err)
			}
		}
		phone.CrashByItself()
		if err := <-answer; err == nil || !strings.Contains(err.Error(), "the tab's process ended under it") {
			inner.Errorf("the expression gives %v", err)
		}
	}))
}

func TestWhatWasSetComesBackAfterACrash(t *testing.T) {
	server := serve(t)
	file := filepath.Join(t.TempDir(), "brews.json")
	if err := os.WriteFile(file, []byte("{}"), 0o600); err != nil {
		t.Fatal(err)
	}
	content(t, overhear(t, func(inner testing.TB) {
		phone := practice(inner, server)
		phone.See("worker: hears")
		downloads := phone.Downloads()
		phone.Resize(browser.NarrowSize)
		phone.Still()
		phone.LargeText(1.5)
		phone.SetClock(24 * time.Hour)
		phone.Quota(1)
		differ(phone)
		phone.CrashByItself()
		phone.See("Practice page")

		var is struct {
			Width       int
			Dark, Quiet bool
			Letters     string
			Ahead       float64
		}
		if err := phone.Eval(`({
			width: innerWidth,
			dark: matchMedia("(prefers-color-scheme: dark)").matches,
			quiet: matchMedia("(prefers-reduced-motion: reduce)").matches,
			letters: (document.documentElement.style.fontSize = "medium", getComputedStyle(document.documentElement).fontSize),
			ahead: (Date.now() - performance.timeOrigin - performance.now()) / 3600000,
		})`, &is); err != nil {
			inner.Fatalf("%v", err)
		}
		if is.Width != 320 || !is.Dark || !is.Quiet || is.Letters != "24px" || is.Ahead < 23 || is.Ahead > 25 {
			inner.Errorf("after the crash: %+v", is)
		}
		if ahead := phone.WorkersAhead(); len(ahead) != 1 || ahead[0].Round(time.Hour) != 24*time.Hour {
			inner.Errorf("the clocks of the workers go before by %v", ahead)
		}
		phone.Fill("Dose", strings.Repeat("9", 200_000))
		phone.Tap("Save the brew")
		phone.See("not kept: QuotaExceededError")

		if err := phone.Eval(`(() => {
			const field = document.body.appendChild(document.createElement("input"));
			field.type = "file";
			field.onchange = () => {
				document.querySelector("h1").textContent = field.files[0].name + " was given";
				const link = document.createElement("a");
				link.href = URL.createObjectURL(field.files[0]);
				link.download = "again.json";
				link.click();
			};
		})()`, nil); err != nil {
			inner.Fatalf("%v", err)
		}
		phone.Give(file)
		phone.See("brews.json was given")
		phone.Downloaded(downloads, "again.json")
		phone.Offline(true)
		phone.See("line: off")
		phone.See("worker: deaf")
	}))
}

func TestThePhoneStaysOfflineThroughACrash(t *testing.T) {
	server := serve(t)
	content(t, overhear(t, func(inner testing.TB) {
		phone := practice(inner, server)
		if err := phone.Eval("navigator.serviceWorker.ready.then(() => true)", nil); err != nil {
			inner.Fatalf("%v", err)
		}
		phone.Offline(true)
		phone.See("worker: deaf")
		differ(phone)
		phone.CrashByItself()
		phone.See("Practice page")
		phone.See("line: off")
		phone.See("worker: deaf")
		phone.Offline(false)
		phone.See("line: on")
		phone.See("worker: hears")
	}))
}

func TestErrorsAfterACrashFail(t *testing.T) {
	server := serve(t)
	for name, button := range map[string]string{
		"the page complains":   "Complain",
		"the worker complains": "Let the worker complain",
	} {
		said := mustFail(t, func(inner testing.TB) {
			phone := practice(inner, server)
			phone.CrashByItself()
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
