package app_test

import (
	"testing"

	"hushcup/pwa/app"
	"hushcup/pwa/app/village"
	"hushcup/sync/codec"
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

// BenchmarkImport is a file of 5,000 brews taken into a fresh notebook, fifty at a time.
func BenchmarkImport(b *testing.B) {
	v, vega := manyBrews(b, 5000)
	var records []codec.Raw
	for after := ""; ; {
		page, err := village.Do[app.DataPage](vega, app.CmdDataPage, app.DataPageAsk{After: after, Limit: 200})
		if err != nil {
			b.Fatal(err)
		}
		for _, r := range page.Records {
			records = append(records, codec.MustMarshal(r))
		}
		if after = page.More; after == "" {
			break
		}
	}
	b.ResetTimer()
	for b.Loop() {
		fresh := v.Phone("fresh")
		fresh.Offline(true)
		for from := 0; from < len(records); from += 50 {
			taken, err := village.Do[app.DataTaken](fresh, app.CmdDataTake, app.DataTake{Records: records[from:min(from+50, len(records))]})
			if err != nil || taken.Taken == 0 {
				b.Fatalf("%+v, %v", taken, err)
			}
		}
	}
}
