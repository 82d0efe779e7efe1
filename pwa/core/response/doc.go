// Package response says what to change next: one variable, by one step, with the
// effect that is expected, how sure that is, and why; or that it can't be told.
//
// # What goes in
//
// Cups: the grind, ratio, temperature and agitation of a brew (Setting), counted
// in this kitchen's units (Space), and how the cup stood: acid, sweet, bitter, body
// and finish, each from -1 (far too little) over 0 (in agreement) to 1 (far too
// much), as a person notes it. TDS, EY and time help where they were measured.
//
// # The model
//
// Every output is a Gaussian process over the centred and scaled variables
// (Rasmussen and Williams, 2006, chapter 2). Its covariance adds a level of each
// coffee, a plane that is the person's over all coffees, and a coffee's own smooth
// bends. TDS, EY and time come first; their prior mean is the trade's: finer,
// hotter and more agitated extracts more, more water extracts a little more and
// weakens. The prior mean of the balance follows the expected TDS and EY in the
// published directions (Frost and others 2020: sweetness falls as TDS rises), so
// temperature acts by extraction and hardly by itself (Batali and others 2020).
// Sizes are our own estimates, with a doubt large enough to be overruled by a few
// cups. How much cups vary from taste to taste is not known beforehand: a few
// noises are weighed by how well they explain all readings.
//
// # The proposal
//
// The base is the coffee's cup that is expected nearest to agreement. Of all steps
// along one variable, up to three units, the one with the greatest expected
// improvement of the sum of squares of the balance is proposed (Jones, Schonlau and
// Welch, Journal of Global Optimization 13, 455-492, 1998), if it is likelier than
// 65 % to come nearer at all. Otherwise the verdict is that it can't be told; the
// setting that comes with it is then a brew that would teach something, and its
// effects say how little is known. Only what was noted of the coffee is judged by.
//
// A seeded simulation with planted optima is in the tests; `go test -bench .`
// prints how many brews it takes, against changing variables in turn, and how often
// the intervals hold. All intervals hold 90 %.
//
// What cups say is one person's. Interrupted brews and cupping bowls are left out
// by the caller.
package response
