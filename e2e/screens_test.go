package e2e

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"hushcup/e2e/browser"
	"hushcup/e2e/proc"
)

// TestEveryScreen opens the demonstration club as some of its people and walks to
// every screen that a link leads to: none has a serious fault, none has to be
// scrolled sideways, on a narrow phone or with letters of twice the size.
func TestEveryScreen(t *testing.T) {
	server := proc.Start(t, "-demo")
	e := newEvening(t, server)
	seen := map[string]bool{}
	for _, name := range []string{"Vega", "Deneb"} { // who organises, and who has not guessed yet
		p := e.phone(strings.ToLower(name))
		comeBack(p, linkOf(t, server, name))
		walk(p, routes(t), seen)
	}
	for _, route := range routes(t) {
		if !seen[route] {
			t.Errorf("nobody came to a screen at %s", route)
		}
	}
}

// linkOf is the link that opens the app as a person of the demonstration.
func linkOf(t *testing.T, server *proc.Server, name string) string {
	found := regexp.MustCompile(`(?m)^\s*` + name + `\s+(http\S+)$`).FindStringSubmatch(server.Log())
	if found == nil {
		t.Fatalf("the server prints no link for %s:\n%s", name, server.Log())
	}
	return found[1]
}

// comeBack opens the app as who has this recovery code.
func comeBack(p *browser.Phone, link string) {
	p.Open(link)
	p.Tap("Come back")
	p.See("You are in")
}

// routes are the addresses that the app knows.
func routes(t *testing.T) (patterns []string) {
	table, err := os.ReadFile("../pwa/ui/routes.tsx")
	if err != nil {
		t.Fatal(err)
	}
	for _, found := range regexp.MustCompile(`pattern: "([^"]+)"`).FindAllStringSubmatch(string(table), -1) {
		patterns = append(patterns, found[1])
	}
	if len(patterns) < 20 {
		t.Fatalf("only these routes were read: %q", patterns)
	}
	return patterns
}

// byAddress are screens that no link inside the app leads to, or only in trouble.
var byAddress = []string{"/join", "/pair", "/recover", "/cupboard/refused", "/recipe"}

// walk follows all links from the first screen, and looks once at every kind of
// screen that has not been seen.
func walk(p *browser.Phone, patterns []string, seen map[string]bool) {
	waiting := append([]string{"/"}, byAddress...)
	gone := map[string]bool{}
	for len(waiting) > 0 {
		path := waiting[0]
		waiting = waiting[1:]
		route := routeOf(path, patterns)
		if strings.HasSuffix(path, "#content") || gone[path] || seen[route] && !crossing[route] {
			continue
		}
		p.Follow(path)
		p.NotSee("One moment")
		p.NotSee("Opening your notebook")
		if !seen[route] || route == "/" { // each has another sample on the table
			inspect(p, route)
		}
		gone[path], seen[route] = true, true
		waiting = append(waiting, p.Links()...)
	}
}

// crossing are the screens whose links lead elsewhere for everybody, for every
// flight and sample, and for every kind of thing in the Cupboard.
var crossing = map[string]bool{
	"/": true, "/flights": true, "/flights/:club/:flight": true, "/sample/:club/:sample": true,
	"/cupboard/have/:what": true, "/cupboard/have/recipe/:id": true,
}

// routeOf gives the pattern of an address: the first that fits, as in the app.
func routeOf(path string, patterns []string) string {
	path, _, _ = strings.Cut(path, "#")
	path, _, _ = strings.Cut(path, "?")
	parts := strings.Split(path, "/")
	for _, pattern := range patterns {
		if fits(strings.Split(pattern, "/"), parts) {
			return pattern
		}
	}
	return path
}

func fits(pattern, parts []string) bool {
	if len(pattern) != len(parts) {
		return false
	}
	for i, part := range pattern {
		if part != parts[i] && !strings.HasPrefix(part, ":") {
			return false
		}
	}
	return true
}

// inspect looks at one screen.
func inspect(p *browser.Phone, route string) {
	name := strings.TrimPrefix(route, "/")
	if name == "" {
		name = "tonight"
	}
	p.Shot(name)
	p.Axe()
	p.FitsWidth("390 points")
	p.Resize(browser.NarrowSize)
	p.FitsWidth("320 points")
	p.EasyToTouch()
	p.LargeText(2)
	p.FitsWidth("320 points and text of twice the size")
	p.Shot(name + " large")
	p.LargeText(1)
	p.Resize(browser.PhoneSize)
	p.Dusk(true)
	p.Axe()
	p.ShotWhole(name + " dusk")
	p.Dusk(false)
}
