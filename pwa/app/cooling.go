package app

import (
	"hushcup/pwa/core/cup"
	"hushcup/sync/codec"
)

// readCup notes how warm a cup is. Two readings calibrate its vessel, for later cups of the same brewer's too.
func (a *App) readCup(args BrewReading) *Error {
	b, err := a.brew(args.Book, args.Brew)
	if err != nil {
		return err
	}
	switch {
	case args.Ago < 0 || args.Ago > 10*minute:
		return refuse(CodeImpossible, "ago", "this is too long ago")
	case !(args.Celsius > 0 && args.Celsius < 100):
		return refuse(CodeImpossible, "celsius", "no cup is as warm as this")
	case b.content.Began == 0:
		return &Error{Code: CodeNotYet, Text: "the clock has not started"}
	}
	at := max(a.now-args.Ago-a.began(&b), 0)
	if n := len(b.content.Readings); n > 0 && at-b.content.Readings[n-1].At < 1000 {
		b.content.Readings = b.content.Readings[:n-1] // the same moment: corrected
	}
	if len(b.content.Readings) >= 40 {
		return tooMany("celsius", 41, 40)
	}
	b.content.Readings = append(b.content.Readings, readingContent{At: at, Celsius: args.Celsius})
	if err := a.keepBrew(&b); err != nil {
		return err
	}
	a.learnVessel(&b)
	return nil
}

// vessels are the rates at which cups cool, by brewer: a digest of the app, that two readings make anew.
func vesselKey(b *openBrew) string {
	s := b.content.Setup.setup()
	return ownKeys + "vessel/" + brewerKey(&s)
}

func (a *App) learnVessel(b *openBrew) {
	c, ok := a.calibrated(b)
	if !ok {
		return
	}
	key := vesselKey(b)
	if a.vessels == nil {
		a.vessels = map[string]float64{}
	}
	a.vessels[key] = c.Rate
	a.persistOwn([]StoredRecord{{Key: key, Value: codec.MustMarshal(c.Rate)}}, nil, func(bool) {})
}

func (a *App) loadVessel(record StoredRecord) {
	var rate float64
	if len(record.Key) > len(ownKeys+"vessel/") && record.Key[:len(ownKeys+"vessel/")] == ownKeys+"vessel/" && codec.Unmarshal(record.Value, &rate) == nil {
		if a.vessels == nil {
			a.vessels = map[string]float64{}
		}
		a.vessels[record.Key] = rate
	}
}

// calibrated is a cup's own cooling, from its first and its last reading.
func (a *App) calibrated(b *openBrew) (cup.Cooling, bool) {
	r := b.content.Readings
	if len(r) < 2 {
		return cup.Cooling{}, false
	}
	c, err := cup.Calibrate(a.room(), r[0].cup(), r[len(r)-1].cup())
	return c, err == nil
}

func (r readingContent) cup() cup.Reading {
	return cup.Reading{Seconds: float64(r.At) / 1000, Celsius: r.Celsius}
}

func (a *App) room() float64 {
	if room := a.home().Room; room > 0 {
		return room
	}
	return usualRoom
}

// cooling says when a cup is how warm; nil without a reading of it, or of a vessel whose rate nobody knows.
func (a *App) cooling(b *openBrew) *Cooling {
	r := b.content.Readings
	if len(r) == 0 || b.content.Began == 0 {
		return nil
	}
	c, ok := a.calibrated(b)
	if !ok {
		rate, known := a.vessels[vesselKey(b)]
		if !known {
			return nil
		}
		var err error
		if c, err = (cup.Cooling{Rate: rate}).Again(a.room(), r[len(r)-1].cup()); err != nil {
			return nil
		}
	}
	began := b.content.Began
	out := &Cooling{Room: c.Room, Rate: c.Rate, From: began + int64(c.From.Seconds*1000), Start: c.From.Celsius}
	for _, call := range c.Calls() {
		out.Calls = append(out.Calls, Call{Stage: string(call.Stage), Celsius: call.Celsius, At: began + int64(call.Seconds*1000)})
	}
	return out
}
