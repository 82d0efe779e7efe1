package app

import (
	"hushcup/pwa/core/rationing"
)

// ration says how many honest attempts a sample or a bag still holds. It is nil when its grams or the dose are not known.
func (a *App) ration(s *BrewSetup, club, sample string, bowls int) *Ration {
	bag := rationing.Bag{Dose: s.Dose, Bowls: bowls, Accuracy: a.scaleAccuracy()}
	known := false
	if sample != "" {
		bag.Grams, known = a.sampleGrams(club, sample)
	} else {
		bag.Grams, bag.Kept, known = a.bagGrams(s.CoffeeID)
	}
	if !known || bag.Dose <= 0 {
		return nil
	}
	if purge := a.advisePurge(s, sample, nil); purge != nil {
		bag.Purge = purge.Grams
	}
	bag.Kept = min(bag.Kept, bag.Grams)
	plan, err := rationing.For(bag)
	if err != nil {
		return nil
	}
	return &Ration{
		Left: bag.Grams, Kept: bag.Kept, Attempts: plan.Attempts, Each: plan.Each, Over: plan.Left,
		Smallest: plan.SmallestDose, Reliable: plan.Reliable, Most: plan.MostAttempts,
	}
}

// sampleGrams is what is left of a sample.
func (a *App) sampleGrams(club, sample string) (float64, bool) {
	c, s, _, err := a.sample(club, sample)
	if err != nil {
		return 0, false
	}
	return max(left(grams(s), a.sampleBrews(&c, s.Body.ID)), 0), true
}

// bagGrams is what is left of a bag of one's own, and what of it is put aside.
func (a *App) bagGrams(id string) (left, kept float64, known bool) {
	coffee, ok := a.coffee(id)
	if !ok || coffee.Grams <= 0 {
		return 0, 0, false
	}
	return a.coffeeLeft(&coffee), coffee.Kept, true
}

// scaleAccuracy is that of the scale in use, in grams, or of a usual kitchen scale.
func (a *App) scaleAccuracy() float64 {
	if scale, ok := a.instrument(a.home().Scale); ok && scale.Precision > 0 {
		return scale.Precision
	}
	return usualAccuracy
}

// usualAccuracy is what core/brewing takes a kitchen scale for.
const usualAccuracy = 0.3
