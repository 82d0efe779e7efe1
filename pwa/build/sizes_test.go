package main

import (
	"path/filepath"
	"testing"
)

func TestWhatAPhoneDownloadsKeepsToItsBudgets(t *testing.T) {
	h := house{dist: filepath.Join("..", "dist")}
	if h.exists(".quick") {
		t.Fatal("pwa/dist is compressed fast, so its sizes say nothing: run go generate ./pwa")
	}
	core, ui, err := h.downloads()
	if err != nil {
		t.Fatal(err)
	}
	if core == 0 || ui == 0 {
		t.Fatal("pwa/dist holds no built app: run go generate ./pwa")
	}
	if core > coreBudget {
		t.Errorf("the core and its worker are %d bytes, more than %d", core, coreBudget)
	}
	if ui > uiBudget {
		t.Errorf("the interface is %d bytes, more than %d", ui, uiBudget)
	}
}
