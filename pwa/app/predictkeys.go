package app

// The keys under which brews of one coffee, brewer or grinder are found among the facts: an id of the Cupboard, or the name in
// one's own words where there is none.
func coffeeKey(s *BrewSetup) string  { return idOr(s.CoffeeID, s.Coffee) }
func brewerKey(s *BrewSetup) string  { return idOr(s.BrewerID, s.Brewer) }
func grinderKey(s *BrewSetup) string { return idOr(s.GrinderID, s.Grinder) }
