// Package repeat says how equal a person's brews of one recipe are, and whether a
// difference between two cups can be the coffee at all.
//
// # Own repeatability
//
// Brews of one recipe and one coffee form a group. For each quantity the variances
// within all groups are pooled (ISO 5725-2: repeatability), so a few pairs of
// repeated brews are worth something:
//
//	s² = sum over groups of the squares around the group's mean / freedom
//	freedom = sum over groups of (n - 1)
//
// Time, beverage, TDS and EY are pooled in logarithms, since a large brew varies by
// more seconds than a small one; their spread is a share. Attributes are pooled as
// they are. The spread is never taken below what the last digit hides. Its 90 %
// interval is that of chi-squared.
//
// # Two cups
//
// Two means of m and n cups differ noticeably when |difference| > t s sqrt(1/m +
// 1/n), t Student's with the pooled freedom: with few brews a large difference is
// nothing yet. Below two degrees of freedom there is no answer but "not enough
// brews yet". Five attributes are looked at, so Holm's correction (Scandinavian
// Journal of Statistics 6, 65-70, 1979) keeps one in ten for all of them
// together. The interval of each is that of the step at which it was judged (the
// last that was reached, for those after it), so a difference counts exactly when
// its interval leaves out 0.
//
// The difference can be the coffee only if the cups were brewed alike: else it may
// be the brewing (match TDS: sweetness falls as TDS rises, Frost and others 2020).
//
// # Never pooled
//
// Brewed cups and cupping bowls differ in grind, ratio, filter and time. Own knows
// one method only; cups of the other are counted and left out.
package repeat
