package browser

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/chromedp/cdproto/input"
)

// reach brings an element under a finger and says where to put it. What is
// hidden behind its own label is touched by the label. It notes, too, whether
// the next finger comes down on the element.
const reach = `async function() {
	const drawn = e => { const r = e.getBoundingClientRect(); return r.width > 2 && r.height > 2 && r };
	const still = () => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)));
	const tried = [];
	for (const e of [this, ...(this.labels ?? [])]) {
		e.scrollIntoView({ block: "center", inline: "center", behavior: "instant" });
		const before = drawn(e);
		await Promise.race([still(), new Promise(done => setTimeout(done, 250))]);
		const box = drawn(e);
		if (!box) { tried.push("it has no size"); continue }
		if (Math.abs(box.x - before.x) > 1 || Math.abs(box.y - before.y) > 1) { tried.push("it moves"); continue }
		// A name that breaks over two lines has a hole in the middle of its box.
		for (const part of [box, ...e.getClientRects()]) {
			const x = part.x + part.width / 2, y = part.y + part.height / 2;
			const meant = top => e.contains(top) || this.contains(top) || top.control === this;
			const top = e.getRootNode().elementFromPoint(x, y);
			if (top && meant(top)) {
				window.hushcupHit = undefined;
				addEventListener("pointerdown", down => { window.hushcupHit = meant(down.composedPath()[0]) }, { capture: true, once: true });
				return { x, y };
			}
			tried.push(top ? "it is covered by <" + top.tagName.toLowerCase() + " class=" + top.className + ">" : "it is outside the screen");
		}
	}
	return { problem: tried.join("; ") };
}`

func (tab *Tab) touch(e element, long time.Duration) error {
	var place struct {
		X, Y    float64
		Problem string
	}
	if err := tab.on(e, reach, &place); err != nil {
		return err
	}
	if place.Problem != "" {
		return fmt.Errorf("%v cannot be tapped: %s", e, place.Problem)
	}
	ctx, cancel := e.brief()
	defer cancel()
	var acted bool
	var err error
	if tab.phone.size.Touch {
		acted, err = tab.tapAt(ctx, place.X, place.Y, long)
	} else {
		acted, err = click(ctx, place.X, place.Y, long)
	}
	if acted {
		err = tab.underWay("the touch of "+e.String(), err)
	}
	return err
}

// tapAt lays a finger on the screen for so long. One that comes down beside what
// it meant, because that has moved just then, slides away without a touch. It says
// whether the page may have acted on it: on a tap as the finger leaves, on one that
// stays from the first.
func (tab *Tab) tapAt(ctx context.Context, x, y float64, long time.Duration) (acted bool, err error) {
	finger := func(event input.DispatchTouchEventType, points ...*input.TouchPoint) error {
		_, err := call(ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: event, TouchPoints: points})
		return err
	}
	if err := finger(input.DispatchTouchEventTypeTouchStart, &input.TouchPoint{X: x, Y: y}); err != nil {
		return long > 0, err
	}
	var beside bool
	err = tab.evaluate(ctx, "window.hushcupHit === false", &beside)
	if crashed(err) {
		return long > 0, err
	}
	if err == nil && beside {
		if err := finger(input.DispatchTouchEventTypeTouchCancel); err != nil {
			return false, err
		}
		return false, errors.New("it moved away from under the finger")
	}
	time.Sleep(long)
	return true, finger(input.DispatchTouchEventTypeTouchEnd)
}

// click is tapAt for a mouse.
func click(ctx context.Context, x, y float64, long time.Duration) (acted bool, err error) {
	at := input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMousePressed, X: x, Y: y,
		Button: input.MouseButtonLeft, ClickCount: 1}
	if _, err := call(ctx, input.DispatchMouseEvent, at); err != nil {
		return long > 0, err
	}
	time.Sleep(long)
	at.Type = input.DispatchMouseEventTypeMouseReleased
	_, err = call(ctx, input.DispatchMouseEvent, at)
	return true, err
}
