package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
)

// element is a thing on the screen as a screen reader has it.
type element struct {
	role, name string
	node       cdp.BackendNodeID
	within     []string // the names of what it stands in, innermost first
	disabled   bool
	life       context.Context // of the tab that it was found in: a crash gives its node to another
}

func (e element) String() string { return fmt.Sprintf("%s %q", e.role, e.name) }

// brief bounds one exchange about the element.
func (e element) brief() (context.Context, context.CancelFunc) {
	return context.WithTimeout(e.life, 2*Patience)
}

// What a finger can touch, and what can be written into.
var (
	touchable = []string{"button", "link", "tab", "checkbox", "radio", "switch", "option", "menuitem",
		"menuitemradio", "menuitemcheckbox", "treeitem", "slider", "combobox", "DisclosureTriangle", "LabelText"}
	writable  = []string{"textbox", "searchbox", "spinbutton", "slider", "combobox", "Date", "InputTime", "DateTime"}
	choosable = []string{"combobox", "listbox", "radiogroup", "group"}
)

// elements reads the whole accessibility tree of the page.
func (tab *Tab) elements() ([]element, error) {
	tab.phone.b.tend()
	life := tab.living()
	ctx, cancel := context.WithTimeout(life, 2*Patience)
	defer cancel()
	tree, err := call(ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	if err != nil {
		return nil, err
	}
	byID := make(map[accessibility.NodeID]*accessibility.Node, len(tree.Nodes))
	for _, node := range tree.Nodes {
		byID[node.NodeID] = node
	}
	var list []element
	for _, node := range tree.Nodes {
		if node.Ignored || node.BackendDOMNodeID == 0 {
			continue
		}
		e := element{
			role: text(node.Role), name: spaced(text(node.Name)),
			node: node.BackendDOMNodeID, disabled: property(node, accessibility.PropertyNameDisabled), life: life,
		}
		for above := byID[node.ParentID]; above != nil; above = byID[above.ParentID] {
			if name := spaced(text(above.Name)); name != "" && !above.Ignored {
				e.within = append(e.within, name)
			}
		}
		list = append(list, e)
	}
	return list, nil
}

func text(value *accessibility.Value) string {
	if value == nil {
		return ""
	}
	var s string
	if json.Unmarshal(value.Value, &s) != nil {
		return ""
	}
	return s
}

func property(node *accessibility.Node, name accessibility.PropertyName) bool {
	for _, p := range node.Properties {
		if p.Name == name && p.Value != nil {
			return string(p.Value.Value) == "true"
		}
	}
	return false
}

// Locator narrows down where a name is looked for.
type Locator struct {
	tab    *Tab
	within string // the name of a region, group, list item, dialog, ...
	nth    int    // among several of that name, counted from 1; 0: there must be one
}

// In looks only inside what has this accessible name.
func (tab *Tab) In(name string) Locator { return Locator{tab: tab, within: name} }

// Nth takes the n-th of several things with the same name, counted from one.
func (tab *Tab) Nth(n int) Locator { return Locator{tab: tab, nth: n} }

// Nth takes the n-th of several things with the same name, counted from one.
func (l Locator) Nth(n int) Locator { l.nth = n; return l }

// find returns the one element with a role of roles and the name: as a whole
// first, else as the beginning, else as a part of its name. Two that fit equally
// well are an ambiguity that a person would have, too.
func (l Locator) find(roles []string, name string) (element, error) {
	all, err := l.tab.elements()
	if err != nil {
		return element{}, err
	}
	var candidates []element
	for _, e := range all {
		if slices.Contains(roles, e.role) && (l.within == "" || slices.ContainsFunc(e.within, contains(l.within))) {
			candidates = append(candidates, e)
		}
	}
	name = spaced(name)
	for _, fits := range []func(string) bool{
		func(s string) bool { return s == name },
		func(s string) bool { return strings.HasPrefix(s, name) },
		contains(name),
	} {
		var found []element
		for _, e := range candidates {
			if fits(e.name) {
				found = append(found, e)
			}
		}
		if len(found) > 0 {
			return l.one(found)
		}
	}
	return element{}, fmt.Errorf("there are only %s", summary(candidates))
}

func (l Locator) one(found []element) (element, error) {
	switch {
	case l.nth > len(found):
		return element{}, fmt.Errorf("there are only %s", summary(found))
	case l.nth > 0:
		return found[l.nth-1], nil
	}
	// A label and the control that it names are the same thing to a finger.
	controls := slices.DeleteFunc(slices.Clone(found), func(e element) bool { return e.role == "LabelText" })
	if len(controls) > 0 {
		found = controls
	}
	if len(found) > 1 {
		return element{}, fmt.Errorf("it could be any of %s", summary(found))
	}
	return found[0], nil
}

func contains(part string) func(string) bool {
	part = spaced(part)
	return func(s string) bool { return strings.Contains(s, part) }
}

func summary(list []element) string {
	words := make([]string, 0, len(list))
	for _, e := range list {
		words = append(words, e.String())
	}
	if len(words) > 40 {
		words = append(words[:40], "...")
	}
	return "[" + strings.Join(words, ", ") + "]"
}
