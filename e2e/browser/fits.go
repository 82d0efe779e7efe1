package browser

import "strings"

// none fails the test if a script finds any of what should not be on the screen.
func (tab *Tab) none(picture, fault, script string) {
	tab.t().Helper()
	var found []string
	if err := tab.look(script, &found); err != nil {
		tab.fail("cannot measure the screen: %v", err)
	}
	if len(found) > 0 {
		shot, _ := tab.shoot(picture)
		tab.t().Errorf("%s: %s %s:\n\t%s\n\tpicture: %s", tab.phone.name, tab.Path(), fault, strings.Join(found, "\n\t"), shot)
	}
}

// FitsWidth fails the test where the screen has to be scrolled sideways, a word is
// cut in two, or words lie over others. What scrolls within itself is left out: that
// is the screen's own decision.
func (tab *Tab) FitsWidth(circumstances string) {
	tab.t().Helper()
	tab.wordsStayWhole(circumstances)
	tab.wordsStayApart(circumstances)
	tab.none("too wide", "at "+circumstances+" scrolls sideways", `(() => {
		const room = document.documentElement.clientWidth;
		if (document.documentElement.scrollWidth <= room) return [];
		const scrolls = e => e && (/auto|scroll|hidden/.test(getComputedStyle(e).overflowX) || scrolls(e.parentElement));
		return ["the page is " + document.documentElement.scrollWidth + " wide, the screen " + room,
			...[...document.body.querySelectorAll("*")]
				.filter(e => e.getBoundingClientRect().right > room + 1 && !scrolls(e.parentElement))
				.slice(0, 5).map(e => e.outerHTML.slice(0, 150))];
	})()`)
}

// wordsStayWhole looks for words that begin in one line and end in another. Long
// ones may: nothing else is left on a narrow screen.
func (tab *Tab) wordsStayWhole(circumstances string) {
	tab.t().Helper()
	tab.none("cut word", "at "+circumstances+" cuts words in two", `(() => {
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
	})()`)
}

// wordsStayApart looks for words that lie over others. What floats above the screen,
// what is folded away and what only a screen reader is told is left out.
func (tab *Tab) wordsStayApart(circumstances string) {
	tab.t().Helper()
	tab.none("words over words", "at "+circumstances+" has words over words", `(() => {
		const most = 0.35; // of a line's height, which is more than that of its letters
		const floats = e => e !== document.body && (/sticky|fixed/.test(getComputedStyle(e).position) || floats(e.parentElement));
		const unseen = e => !e.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true }) || e.matches("option") ||
			!!e.closest(".unseen, .places") || !!e.closest("details:not([open])") && !e.closest("summary");
		const within = (e, line) => { // what of a line is seen in what scrolls
			let { left, top, right, bottom } = line;
			for (; e !== document.body; e = e.parentElement) {
				if (getComputedStyle(e).overflowY === "visible") continue;
				const room = e.getBoundingClientRect();
				[left, top, right, bottom] = [Math.max(left, room.left), Math.max(top, room.top), Math.min(right, room.right), Math.min(bottom, room.bottom)];
			}
			return { left, top, right, bottom, height: bottom - top, width: right - left };
		};
		const seen = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), range = document.createRange(), lines = [];
		for (let text; (text = seen.nextNode()); ) {
			if (!text.data.trim() || unseen(text.parentElement) || floats(text.parentElement)) continue;
			range.selectNodeContents(text);
			for (const rect of range.getClientRects()) {
				const line = within(text.parentElement, rect);
				if (line.width > 1 && line.height > 1) lines.push([text, line]);
			}
		}
		const over = [];
		for (const [i, [one, a]] of lines.entries()) for (const [other, b] of lines.slice(i + 1)) {
			const width = Math.min(a.right, b.right) - Math.max(a.left, b.left), height = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
			if (one !== other && width > 2 && height > most * Math.min(a.height, b.height)) over.push(one.data.slice(0, 60) + " over " + other.data.slice(0, 60));
		}
		return over.slice(0, 5);
	})()`)
}
