// Package scaling predicts how long a brew takes at another dose or in another
// brewer, first from geometry, then from the person's own brews.
//
// # From geometry
//
// Water goes through a bed of grounds by Darcy's law: flow per area q = K i, with
// i the hydraulic gradient (head lost per depth of bed, a pure number) and K the
// conductivity of the bed, by Kozeny and Carman (Carman, Transactions of the
// Institution of Chemical Engineers 15, 150-166, 1937)
//
//	K = rho g d² e³ / (180 mu (1-e)²)
//
// with d the size of the grounds and e the share of the bed that is not grounds.
// The same grind packs alike, so K stays. At the same ratio the volume of water
// is proportional to the dose D. Then, for one continuous pour:
//
//   - A cone filled to any height has the same shape. When all lengths grow by s,
//     volume grows by s³, area by s², the gradients stay, so time = volume / (area
//     q) grows by s = D^(1/3).
//   - In a flat bed or cylinder the area is fixed; depth and head grow by D, the
//     gradients stay, volume grows by D, so time grows by D.
//
// Hence t ~ D^n with n = 1/3 or 1. Time goes with 1/K, so to keep the time when it
// would change by a factor, the grounds must be coarser by that factor's root.
//
// That is a starting hint only: paper, whose resistance does not scale, dominates
// the drawdown of small doses, and pours by the clock fix much of the time.
//
// # From one's own brews
//
// log t = level + brewer + grinder + (n + d) log(D/15 g) + slope setting + noise
//
// is fitted by Bayesian linear regression with a normal-inverse-gamma prior
// (Gelman and others, Bayesian Data Analysis, 3rd edition, chapters 3 and 14):
// d is each shape's departure from its geometry, zero give or take 0.25 (cone) or
// 0.35 (flat bed, cylinder); brewers and grinders differ by 0.3 in log time; brews
// of one recipe repeat to 0.08 in log time, known like a spread from seven brews.
// These four numbers are our own estimates. Predictions are Student t; all
// intervals hold 90 %.
//
// Whether enough is known is judged by what was learned: three brews or more that
// halved the variance of the exponent. Else the answer says so and is the hint.
//
// Masses are in grams, times in seconds.
package scaling
