package app

import (
	"cmp"

	"hushcup/pwa/core/grinder"
)

// advisePurge says what to grind away before a coffee, given what was ground last. Of a grinder that others use too nobody
// knows that. It is nil without a grinder or a dose.
func (a *App) advisePurge(s *BrewSetup, sample string, d *Declared) *Purge {
	key := grinderKey(s)
	if key == "" || s.Dose <= 0 {
		return nil
	}
	item, _ := a.grinder(s.GrinderID)
	var before *grinder.Lot
	if e := a.lastGround(func(e *entry) bool { return e.Facts.Grinder == key }); e != nil && !item.Shared {
		before = &grinder.Lot{ID: e.Facts.Coffee, Infused: e.Facts.Infused, Allergens: e.Facts.Allergens}
	}
	next := grinder.Lot{ID: cmp.Or(sample, coffeeKey(s))}
	if d != nil {
		next.Infused, next.Allergens = len(d.Additives) > 0, len(d.Allergens) > 0
	}
	advice, err := grinder.Purge(item.Stays, s.Dose, before, next)
	if err != nil {
		return nil
	}
	out := &Purge{Grams: advice.Grams}
	for _, r := range advice.Reasons {
		out.Reasons = append(out.Reasons, Reason{Code: r.Code, N: r.N})
	}
	return out
}

// lastGround is the newest brew that keep takes and whose coffee was ground: planned ones may not have been. It is nil without
// any.
func (a *App) lastGround(keep func(*entry) bool) *entry {
	found, _ := a.facts(1, func(e *entry) bool { return e.Digest.State != "planned" && keep(e) })
	if len(found) == 0 {
		return nil
	}
	return found[0]
}
