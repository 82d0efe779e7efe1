package browser

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/runtime"
)

// Tap touches the button, link or other control with this accessible name.
func (tab *Tab) Tap(name string) { tab.t().Helper(); Locator{tab: tab}.Tap(name) }

// TapRole touches the one control of this role and name.
func (tab *Tab) TapRole(role, name string) { tab.t().Helper(); Locator{tab: tab}.TapRole(role, name) }

// Hold keeps a finger on the control with this accessible name for so long.
func (tab *Tab) Hold(name string, long time.Duration) {
	tab.t().Helper()
	Locator{tab: tab}.Hold(name, long)
}

// Fill writes a value into the field with this label, and leaves the field.
func (tab *Tab) Fill(label, value string) { tab.t().Helper(); Locator{tab: tab}.Fill(label, value) }

// Choose picks an option, by its text, in the list or the group of this label.
func (tab *Tab) Choose(label, option string) {
	tab.t().Helper()
	Locator{tab: tab}.Choose(label, option)
}

// Value is what stands in the field with this label.
func (tab *Tab) Value(label string) string { tab.t().Helper(); return Locator{tab: tab}.Value(label) }

// Has reports whether a control of this name is on the screen now.
func (tab *Tab) Has(name string) bool {
	all, err := tab.elements()
	if crashed(err) {
		all, err = tab.elements()
	}
	if err != nil {
		return false
	}
	for _, e := range all {
		for _, role := range touchable {
			if e.role == role && e.role != "LabelText" && contains(name)(e.name) {
				return true
			}
		}
	}
	return false
}

// Tap touches the control with this accessible name.
func (l Locator) Tap(name string) { l.tab.t().Helper(); l.tap(touchable, name) }

// TapRole touches the one control of this role and name.
func (l Locator) TapRole(role, name string) { l.tab.t().Helper(); l.tap([]string{role}, name) }

// Hold keeps a finger on the control with this accessible name for so long.
func (l Locator) Hold(name string, long time.Duration) {
	l.tab.t().Helper()
	l.press(touchable, name, long)
}

func (l Locator) tap(roles []string, name string) { l.tab.t().Helper(); l.press(roles, name, 0) }

func (l Locator) press(roles []string, name string, long time.Duration) {
	l.tab.t().Helper()
	l.tab.wait(fmt.Sprintf("%q to be there and free to tap", name), func() (bool, string) {
		e, err := l.find(roles, name)
		if err == nil && e.disabled {
			err = fmt.Errorf("%v is disabled", e)
		}
		if err == nil {
			err = l.tab.touch(e, long)
		}
		return err == nil, fmt.Sprint(err)
	})
}

// Fill writes a value into the field with this label, and leaves the field.
func (l Locator) Fill(label, value string) {
	l.tab.t().Helper()
	l.tab.wait(fmt.Sprintf("a field %q to write into", label), func() (bool, string) {
		e, err := l.find(writable, label)
		if err == nil && e.disabled {
			err = fmt.Errorf("%v is disabled", e)
		}
		if err == nil {
			err = l.tab.write(e, value)
		}
		return err == nil, fmt.Sprint(err)
	})
}

// Value is what stands in the field with this label.
func (l Locator) Value(label string) string {
	l.tab.t().Helper()
	var value string
	l.tab.wait(fmt.Sprintf("a field %q to read", label), func() (bool, string) {
		e, err := l.find(writable, label)
		if err == nil {
			err = l.tab.on(e, "function() { return String(this.value) }", &value)
		}
		return err == nil, fmt.Sprint(err)
	})
	return value
}

// Choose picks an option in a list, or a radio button or a button in a group.
func (l Locator) Choose(label, option string) {
	l.tab.t().Helper()
	l.tab.wait(fmt.Sprintf("%q to be chosen for %q", option, label), func() (bool, string) {
		e, err := l.find(choosable, label)
		if err == nil {
			err = l.choose(e, label, option)
		}
		return err == nil, fmt.Sprint(err)
	})
}

func (l Locator) choose(e element, label, option string) error {
	if e.role == "combobox" || e.role == "listbox" {
		var problem string
		if err := l.tab.on(e, pickOption, &problem, option); err != nil {
			return err
		}
		if problem != "" {
			return errors.New(problem)
		}
		return nil
	}
	inside := l
	inside.within = label
	found, err := inside.find([]string{"radio", "checkbox", "button", "switch", "option"}, option)
	if err != nil {
		return err
	}
	return l.tab.touch(found, 0)
}

// pickOption chooses as the browser's own list would, and tells the page.
const pickOption = `function(wanted) {
	const plain = s => s.replace(/\s+/g, " ").trim();
	if (!this.options) return "not a list of the browser's own";
	const options = [...this.options];
	const found = options.find(o => plain(o.label) === wanted) ?? options.find(o => plain(o.label).includes(wanted));
	if (!found) return "there are only " + options.map(o => plain(o.label)).join(", ");
	if (found.disabled) return wanted + " is disabled";
	this.focus();
	this.value = found.value;
	found.selected = true;
	this.dispatchEvent(new Event("input", { bubbles: true }));
	this.dispatchEvent(new Event("change", { bubbles: true }));
	this.blur();
	return "";
}`

// write replaces what stands in a field, by typing where that works.
func (tab *Tab) write(e element, value string) error {
	var how string
	if err := tab.on(e, enter, &how, value); err != nil {
		return err
	}
	switch how {
	case "set":
		return nil
	case "type":
	default:
		return fmt.Errorf("%v cannot be written into: %s", e, how)
	}
	ctx, cancel := e.brief()
	defer cancel()
	if value != "" {
		if _, err := call(ctx, input.InsertText, input.InsertTextParams{Text: value}); err != nil {
			return err
		}
	}
	var got string
	if err := tab.on(e, "function() { this.blur(); return String(this.value) }", &got); err != nil {
		return err
	}
	return nil
}

// enter focuses a field and selects what stands in it, so that typing replaces
// it. Sliders, dates and times take no typed text and are set, as their own
// controls would set them.
const enter = `function(value) {
	if (this.readOnly) return "it is read-only";
	this.scrollIntoView({ block: "center", behavior: "instant" });
	this.focus();
	if (document.activeElement !== this) return "it takes no focus";
	const settable = ["range", "date", "time", "datetime-local", "month", "week", "color"].includes(this.type);
	if (!settable && value !== "") { this.select?.(); return "type" }
	const prototype = this instanceof HTMLTextAreaElement ? HTMLTextAreaElement.prototype : HTMLInputElement.prototype;
	Object.getOwnPropertyDescriptor(prototype, "value").set.call(this, value);
	this.dispatchEvent(new Event("input", { bubbles: true }));
	this.dispatchEvent(new Event("change", { bubbles: true }));
	this.blur();
	return "set";
}`

// on calls a JavaScript function with the element as this.
func (tab *Tab) on(e element, function string, result any, args ...string) error {
	ctx, cancel := e.brief()
	defer cancel()
	resolved, err := call(ctx, dom.ResolveNode, dom.ResolveNodeParams{BackendNodeID: e.node})
	if err != nil {
		return err
	}
	// The arguments stand in the text: those of the protocol lose an empty string.
	given, err := json.Marshal(args)
	if err != nil {
		return err
	}
	yes := true
	asked := runtime.CallFunctionOnParams{
		FunctionDeclaration: fmt.Sprintf("function() { return (%s).apply(this, %s ?? []) }", function, given),
		ObjectID:            resolved.Object.ObjectID,
		ReturnByValue:       &yes, AwaitPromise: &yes, UserGesture: &yes,
	}
	answer, err := call(ctx, runtime.CallFunctionOn, asked)
	if err != nil {
		return err
	}
	if answer.ExceptionDetails != nil {
		return fmt.Errorf("javascript: %s", describe(answer.ExceptionDetails))
	}
	if result == nil || len(answer.Result.Value) == 0 {
		return nil
	}
	return json.Unmarshal(answer.Result.Value, result)
}
