package browser

import (
	"context"
	"fmt"
	"strings"

	"github.com/chromedp/cdproto/page"
)

// Follow goes to a path as by a link on the screen: the app stays loaded, which
// Open does not let it.
func (tab *Tab) Follow(path string) {
	tab.t().Helper()
	var there string
	err := tab.look(fmt.Sprintf(`(() => {
		const link = document.createElement("a");
		link.href = %q;
		document.body.append(link);
		link.click();
		link.remove();
		return location.pathname + location.hash;
	})()`, path), &there)
	if err != nil || there != path {
		tab.fail("cannot follow a link to %s, but to %s: %v", path, there, err)
	}
}

// Links are the paths on the same host that the links of the screen lead to.
func (tab *Tab) Links() (paths []string) {
	tab.t().Helper()
	err := tab.look(`[...document.querySelectorAll("a[href]")].filter(a => a.origin === location.origin)
		.map(a => a.pathname + a.hash)`, &paths)
	if err != nil {
		tab.fail("cannot read the links: %v", err)
	}
	return paths
}

// LargeText makes letters larger than the browser's own size, as a person can
// set it; 1 is that size again.
func (tab *Tab) LargeText(factor float64) {
	tab.t().Helper()
	sizes := page.FontSizes{Standard: int64(16 * factor), Fixed: int64(13 * factor)}
	err := tab.steady(func(ctx context.Context) error {
		_, err := call(ctx, page.SetFontSizes, page.SetFontSizesParams{FontSizes: &sizes})
		return err
	})
	if err != nil {
		tab.fail("cannot set the size of the text: %v", err)
	}
}

// FitsWidth fails the test where the screen has to be scrolled sideways, or a word
// is cut in two. What scrolls within itself is left out: that is the screen's own
// decision.
func (tab *Tab) FitsWidth(circumstances string) {
	tab.t().Helper()
	tab.wordsStayWhole(circumstances)
	var wide []string
	err := tab.look(`(() => {
		const room = document.documentElement.clientWidth;
		if (document.documentElement.scrollWidth <= room) return [];
		const scrolls = e => e && (/auto|scroll|hidden/.test(getComputedStyle(e).overflowX) || scrolls(e.parentElement));
		return ["the page is " + document.documentElement.scrollWidth + " wide, the screen " + room,
			...[...document.body.querySelectorAll("*")]
				.filter(e => e.getBoundingClientRect().right > room + 1 && !scrolls(e.parentElement))
				.slice(0, 5).map(e => e.outerHTML.slice(0, 150))];
	})()`, &wide)
	if err != nil {
		tab.fail("cannot measure the page: %v", err)
	}
	if len(wide) > 0 {
		picture, _ := tab.shoot("too wide")
		tab.t().Errorf("%s: %s at %s scrolls sideways:\n\t%s\n\tpicture: %s",
			tab.phone.name, tab.Path(), circumstances, strings.Join(wide, "\n\t"), picture)
	}
}

// wordsStayWhole looks for words that begin in one line and end in another. Long
// ones may: nothing else is left on a narrow screen.
func (tab *Tab) wordsStayWhole(circumstances string) {
	tab.t().Helper()
	var cut []string
	err := tab.look(`(() => {
		const long = 10, cut = [], seen = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), range = document.createRange();
		for (let text; (text = seen.nextNode()); ) {
			for (const { 0: word, index } of text.data.matchAll(/[\p{L}\p{M}]+/gu)) {
				if (word.length > long) continue;
				range.setStart(text, index);
				range.setEnd(text, index + word.length);
				const lines = new Set([...range.getClientRects()].filter(({ width, height }) => width > 1 && height > 1).map(({ top }) => Math.round(top)));
				if (lines.size > 1) cut.push(word + " in " + text.parentElement.outerHTML.slice(0, 150));
			}
		}
		return cut.slice(0, 5);
	})()`, &cut)
	if err != nil {
		tab.fail("cannot measure the words: %v", err)
	}
	if len(cut) > 0 {
		picture, _ := tab.shoot("cut word")
		tab.t().Errorf("%s: %s at %s cuts words in two:\n\t%s\n\tpicture: %s",
			tab.phone.name, tab.Path(), circumstances, strings.Join(cut, "\n\t"), picture)
	}
}
