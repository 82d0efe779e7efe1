// Package cup is about noticing: the stages of one coffee, words for what was
// noticed, lines for how much of it there was, and when the cup is how warm.
//
// What was noticed when is kept: a stage that was skipped is missing, which is
// not the same as "nothing noticed". Words come from an own list of plain food
// words, ordered like a kitchen and a market, and from the person: any other
// word is as welcome. Lines are empty until they are touched; a middle would
// anchor.
package cup
