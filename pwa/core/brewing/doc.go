// Package brewing computes what happens between a dose of coffee and a cup:
// ratios, extraction and how sure it is, the boiling point of a home, recipes
// as timelines, and a clock that stays right.
//
// # Units
//
// Masses are grams, temperatures °C, times milliseconds since the brew began,
// concentrations mass fractions (0.0135 is 1.35 % TDS), altitudes metres.
//
// # Extraction
//
// With dose D, water W, beverage B and total dissolved solids T by mass fraction:
//
//	percolation  EY = T B / D              (what dripped through was weighed)
//	             EY = T (W/D - r)          (it was not: the grounds keep r)
//	immersion    EY = T W / (D (1 - T))    (all water is as strong as the cup)
//
// The immersion form follows from T = S/(W+S) for dissolved solids S. The
// retained liquid r, in grams of liquid to a gram of coffee, starts at
// [RetainedDrip] or [RetainedDecanted] and is learned from a person's own brews.
// TDS is taken filtered, cooled and covered, from the beverage that is weighed.
//
// Uncertainty is propagated to first order (JCGM 100:2008, "GUM", 5.1.2), and an
// extraction is shown as an interval of two standard uncertainties each way.
//
// # Refusing and questioning
//
// [Check] returns findings of two kinds: what cannot be is refused, what is
// hardly meant is questioned, and a person may say "yes, that is right" to the
// second kind only.
package brewing
