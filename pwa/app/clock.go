package app

import (
	"encoding/binary"
	"io"

	"hushcup/pwa/core/brewing"
)

// clockContent is a brewing.Clock as it is kept with its brew: the newest reading, from which every later one is computed,
// also after a restart.
type clockContent struct {
	Wall     int64  `cbor:"1,keyasint"`
	Mono     int64  `cbor:"2,keyasint"`
	Session  uint64 `cbor:"3,keyasint"`
	Elapsed  int64  `cbor:"4,keyasint"`
	Doubtful bool   `cbor:"5,keyasint"`
}

func (c clockContent) clock() brewing.Clock {
	return brewing.Clock{
		Last:    brewing.Instant{Wall: brewing.Millis(c.Wall), Mono: brewing.Millis(c.Mono), Session: c.Session},
		Elapsed: brewing.Millis(c.Elapsed), Doubtful: c.Doubtful,
	}
}

func keptClock(c brewing.Clock) clockContent {
	return clockContent{
		Wall: int64(c.Last.Wall), Mono: int64(c.Last.Mono), Session: c.Last.Session, Elapsed: int64(c.Elapsed), Doubtful: c.Doubtful,
	}
}

// newSession names one run of the app, for its steady clock.
func newSession(rand io.Reader) uint64 {
	var b [8]byte
	_, _ = io.ReadFull(rand, b[:]) // without randomness nothing else works either
	return binary.BigEndian.Uint64(b[:]) >> 1
}

func (a *App) instant() brewing.Instant {
	return brewing.Instant{Wall: brewing.Millis(a.now), Mono: brewing.Millis(a.mono), Session: a.session}
}

// running is the clock of a brew at this moment.
func (a *App) running(b *openBrew) brewing.Clock { return b.content.Clock.clock().At(a.instant()) }

// began is where a running brew's start lies by this phone's clock as it stands now; it moves only when that clock was set.
func (a *App) began(b *openBrew) int64 {
	began := a.now - int64(a.running(b).Elapsed)
	if off := began - b.content.Began; off > -1000 && off < 1000 {
		return b.content.Began
	}
	return began
}
