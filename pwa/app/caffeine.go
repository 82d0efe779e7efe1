package app

import (
	"hushcup/pwa/core/intake"
)

const (
	caffeineTime = 16 * hour // how long what was brewed before counts: an evening after a day
	scoopGrams   = 10        // of a scoop that nobody weighed, rather much; our own estimate
	bowlPart     = 0.25      // of a cupping bowl that goes into spoons, rather much; our own estimate
)

// caffeine estimates what is planned, and with it what was brewed in the last hours. It is nil when no dose is known.
func (a *App) caffeine(s *BrewSetup, club, sample string, bowls int) *Caffeine {
	dose := s.Dose
	if dose == 0 {
		dose = scoopGrams * s.Scoops
	}
	if dose <= 0 {
		return nil
	}
	spits := a.personal.Spits
	planned := intake.Cup{Dose: dose * float64(max(bowls, 1)), Kind: a.coffeeKind(s, sample), Part: partOf(bowls > 1 || s.Geometry == "cupping-bowl" || s.Method == "bowl")}
	planned.Swallowed = swallowed(spits)
	before, err := intake.Evening(a.hadBefore(spits))
	if err != nil {
		return nil
	}
	of, err := intake.Assess([]intake.Cup{planned}, before)
	if err != nil {
		return nil
	}
	return &Caffeine{
		Low: float64(of.Evening.Low), High: float64(of.Evening.High), TodayLow: float64(of.Day.Low), TodayHigh: float64(of.Day.High),
		AtOnce: string(of.AtOnce), InADay: string(of.InADay), Pregnant: string(of.Pregnant), Sleep: string(of.Sleep), Spits: spits,
	}
}

func swallowed(spits bool) intake.Swallowed {
	if spits {
		return intake.Spat
	}
	return intake.Everything
}

func partOf(bowl bool) float64 {
	if bowl {
		return bowlPart
	}
	return 1
}

// coffeeKind is what is known of the caffeine of a setup's coffee.
func (a *App) coffeeKind(s *BrewSetup, sample string) intake.Kind {
	if sample != "" {
		return intake.Sealed
	}
	return a.kindOf(s.CoffeeID)
}

// kindOf is what is known of a coffee of the Cupboard; of one that does not stand there only that it may be any with caffeine.
func (a *App) kindOf(coffee string) intake.Kind {
	if item, ok := a.coffee(coffee); ok && item.Caffeine != "" {
		return intake.Kind(item.Caffeine)
	}
	return intake.Regular
}

// hadBefore are the brews of the last hours, abandoned ones too: nobody says how much of those was drunk.
func (a *App) hadBefore(spits bool) (cups []intake.Cup) {
	found, _ := a.between(a.now-caffeineTime, a.now, func(e *entry) bool { return e.Facts.Dose > 0 && e.Digest.State != "planned" })
	for _, e := range found {
		cup := intake.Cup{Dose: e.Facts.Dose, Kind: intake.Sealed, Part: partOf(e.Facts.Bowl), Swallowed: swallowed(spits)}
		if e.Digest.Sample == "" {
			cup.Kind = a.kindOf(e.Facts.Coffee)
		}
		cups = append(cups, cup)
	}
	return cups
}
