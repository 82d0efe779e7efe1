package app

// facts are the entries that keep takes, newest first, at most so many. Until ready older ones are still being read, and the
// look under way is made again.
func (a *App) facts(most int, keep func(*entry) bool) (newest []*entry, ready bool) {
	for _, bucket := range a.index.bench.Buckets {
		page, read := a.index.page(a, bucket)
		if !read {
			return newest, false
		}
		for _, e := range page {
			if !keep(e) {
				continue
			}
			if newest = append(newest, e); len(newest) == most {
				return newest, true
			}
		}
	}
	return newest, true
}
