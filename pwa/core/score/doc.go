// Package score says how much better than a blind guess a belief was, once the
// answer is known.
//
// # The rule
//
// With q the prior that the flight declared and P the belief (package guess),
//
//	P' = (1-e) P + e q, e = 0.02
//	bits = log2 P'(truth) / q(truth)
//
// The truth is an event: a set of nodes for each facet that the answer states
// (a lot of two varieties scores either). Facets that it does not state, or
// only by hearsay, restrict nothing and are not scored. No guess is P = q: 0
// bits.
//
// Bits are told by the chain rule, so they add up and one insight is paid once:
// the origin level by level, then the process given the origin, the variety
// given both, decaf, altitude and roast given all before. In the ordered facets,
// altitude and roast, a step's bits are the mean, over the borders between bands
// that the truth decides, of log2 of the ratio of P' to q of being on the right
// side, so that one band off costs little.
//
// Each step is rounded to whole thousandths of a bit, halves upwards, and the
// total is the sum of the rounded steps. A flight may weigh facets; a step's
// bits are multiplied by its facet's weight before rounding.
//
// # Why honesty pays
//
// The logarithmic score of a chain of conditional distributions is strictly
// proper for each of them, with any positive weights, and so is the mean over
// borders. Hence no report has a higher expectation, under P', than the report
// P itself: strictly proper for the belief with its doubt e. Whoever means to
// have no doubt at all could gain by overstating, but by less than
// -log2(1-e) = 0.03 bits in expectation, since the gain is the divergence of P'
// from P.
//
// # Equal everywhere
//
// Priors and beliefs are whole numbers, sums run in tree order, logarithms are
// those of package exact. Version and [Rules.Pin] name all of this in a flight.
package score
