package browser

import (
	"os"
	"path/filepath"
	"strings"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/chromedp"
)

// Downloads lets the phone keep what the app hands to it, in the folder that is
// returned.
func (p *Phone) Downloads() string {
	p.b.t.Helper()
	folder := p.b.t.TempDir()
	_, err := chromedp.CallBrowser(p.b.ctx, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{
		Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, BrowserContextID: p.context, DownloadPath: folder,
	})
	if err != nil {
		p.fail("cannot keep downloads: %v", err)
	}
	return folder
}

// Downloaded waits until the folder holds the whole of a file whose name ends so,
// and returns its path and content.
func (p *Phone) Downloaded(folder, ending string) (path string, content []byte) {
	p.b.t.Helper()
	p.wait("a file *"+ending+" in the downloads", func() (bool, string) {
		found, err := os.ReadDir(folder)
		if err != nil {
			return false, err.Error()
		}
		var names []string
		for _, file := range found {
			names = append(names, file.Name())
			if !strings.HasSuffix(file.Name(), ending) {
				continue
			}
			path = filepath.Join(folder, file.Name())
			content, err = os.ReadFile(path)
			return err == nil && len(content) > 0, file.Name() + " is empty"
		}
		return false, strings.Join(names, ", ")
	})
	return path, content
}

// Give chooses a file in the one field for files that the page has, as the
// system's own window would.
func (tab *Tab) Give(path string) {
	tab.t().Helper()
	tab.wait("a field for a file", func() (bool, string) {
		ctx, cancel := tab.brief()
		defer cancel()
		root, err := call(ctx, dom.GetDocument, dom.GetDocumentParams{})
		if err != nil {
			return false, err.Error()
		}
		field, err := call(ctx, dom.QuerySelector, dom.QuerySelectorParams{NodeID: root.Root.NodeID, Selector: "input[type=file]"})
		if err != nil || field.NodeID == 0 {
			return false, "there is none"
		}
		_, err = call(ctx, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{path}, NodeID: field.NodeID})
		if err = tab.underWay("choosing a file", err); err != nil {
			return false, err.Error()
		}
		return true, ""
	})
}
