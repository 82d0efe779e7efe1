package browser

import (
	"context"
	"fmt"

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
