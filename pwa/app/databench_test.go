package app_test

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
)

// BenchmarkExport is from the disk's records to all pages of a file of 5,000 brews.
func BenchmarkExport(b *testing.B) {
	_, vega := manyBrews(b, 5000)
	b.ResetTimer()
	for b.Loop() {
		vega.Start()
		count, after := 0, ""
		for {
			page, err := village.Do[app.DataPage](vega, app.CmdDataPage, app.DataPageAsk{After: after, Limit: 200})
			if err != nil {
				b.Fatal(err)
			}
			count += len(page.Records)
			if after = page.More; after == "" {
				break
			}
		}
		if count != 5000 {
			b.Fatalf("%d records", count)
		}
	}
}
