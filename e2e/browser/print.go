package browser

import (
	"context"
	"os"
	"path/filepath"
	"regexp"

	"github.com/chromedp/cdproto/page"
)

// Sheet is a size of paper in inches.
type Sheet struct{ Width, Height float64 }

// What a printer at home has.
var (
	A4     = Sheet{8.27, 11.69}
	Letter = Sheet{8.5, 11}
)

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b`)

// Print prints the screen, keeps it beside the pictures, and returns how many
// pages it takes.
func (p *Phone) Print(name string, sheet Sheet) (pages int) {
	p.b.t.Helper()
	var printed page.PrintToPDFResult
	err := p.steady(func(ctx context.Context) (err error) {
		printed, err = call(ctx, page.PrintToPDF, page.PrintToPDFParams{
			PaperWidth: sheet.Width, PaperHeight: sheet.Height,
		})
		return err
	})
	if err != nil {
		p.fail("cannot print %q: %v", name, err)
	}
	folder := filepath.Join(shotsFolder(), plain(p.b.t.Name()))
	if err = os.MkdirAll(folder, 0o755); err == nil {
		err = os.WriteFile(filepath.Join(folder, plain(p.name)+"-"+plain(name)+".pdf"), printed.Data, 0o644)
	}
	if err != nil {
		p.fail("the print of %q is not kept: %v", name, err)
	}
	return len(pdfPage.FindAll(printed.Data, -1))
}
