package app

import "hushcup/pwa/core/water"

func (c *Concentrate) core() water.Concentrate {
	out := water.Concentrate{Litres: c.Litres, Grams: map[string]float64{}}
	for _, s := range c.Salts {
		out.Grams[s.Salt] += s.Grams
	}
	return out
}

// check refuses what cannot be. Without salts or a volume it is only not finished; then nothing is mixed with it.
func (c *Concentrate) check() *Error {
	err := first(named(&c.Name, &c.Note), within("litres", c.Litres, 0.0, 20), tooMany("salts", len(c.Salts), len(words("Salt"))))
	for i, s := range c.Salts {
		field := "salts." + decimal(i)
		err = first(err, oneOf(field+".salt", s.Salt, "Salt"), within(field+".grams", s.Grams, 0.0, 10_000))
	}
	if err != nil || c.Litres == 0 {
		return err
	}
	if _, fault := c.core().PerMillilitre(); fault != nil {
		return refuse(CodeImpossible, "salts", "this is more salt than the water can hold")
	}
	return nil
}

// brings is what a millilitre of it brings to a litre; false while it is not finished.
func (c *Concentrate) brings() (water.Water, bool) {
	perMillilitre, err := c.core().PerMillilitre()
	return perMillilitre, err == nil && perMillilitre != (water.Water{})
}

// readConcentrate says what a concentrate brings and what will not stay dissolved, while it is being typed.
func (a *App) readConcentrate(c Concentrate) (ConcentrateReading, *Error) {
	c.Name = "." // it may still lack one
	if err := c.check(); err != nil {
		return ConcentrateReading{}, err
	}
	return c.reads(), nil
}

func (c *Concentrate) reads() (r ConcentrateReading) {
	if c.Litres == 0 {
		return r
	}
	perMillilitre, _ := c.brings()
	r.Hardness, r.Alkalinity = perMillilitre.Hardness(), perMillilitre.Alkalinity()
	for _, d := range c.core().Doubts() {
		r.Doubts = append(r.Doubts, WaterDoubt{Code: d.Code, Salt: d.Salt, Value: d.Most})
	}
	return r
}
