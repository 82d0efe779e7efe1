package browser

// EasyToTouch fails the test where something to be touched is smaller than 48
// points. A link within a sentence may be as high as its line.
func (tab *Tab) EasyToTouch() {
	tab.t().Helper()
	tab.none("hard to touch", "has what is hard to touch", `(() => {
		const least = 47.5;
		const folded = e => e.closest("details:not([open])") && !e.matches("summary");
		const size = e => { // of a field, with the box around it that takes the touch for it
			const sizes = [e, e.closest("label"), e.closest(".field-box")].filter(Boolean).map(each => each.getBoundingClientRect());
			return [Math.max(...sizes.map(({ width }) => width)), Math.max(...sizes.map(({ height }) => height))];
		};
		return [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=slider], [role=radio]")]
			.filter(e => e.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true }) && !folded(e) && !e.closest(".skip"))
			.filter(e => getComputedStyle(e).display !== "inline" || !e.closest("p, dd, li, td"))
			.filter(e => size(e).some(length => length < least))
			.slice(0, 5).map(e => size(e).map(Math.round).join(" by ") + ": " + e.outerHTML.slice(0, 150));
	})()`)
}
