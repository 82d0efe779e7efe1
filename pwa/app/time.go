package app

const (
	minute = int64(60_000)
	hour   = 60 * minute
	day    = 24 * hour
)

// serverNow is the server's time as well as this phone knows it.
func (a *App) serverNow() int64 { return a.now + a.replica.ServerOffset(a.host) }
