// Package grinder reads a grinder's own scale, carries a setting over to another
// brewer, dose or grinder, and says what to grind away between two coffees.
//
// # The scale
//
// A grinder has clicks, turns with clicks, numbers or letters (Scale). All become
// a Position: how many of the smallest steps from zero. Nothing is assumed about
// how large a step is or which way is coarser; one's own brews tell.
//
// # The curve
//
// For one grinder log(time) is taken as a line over the position: time goes with
// the inverse square of the size of the grounds (Kozeny and Carman, see package
// scaling), and over the range of one brewer the size is near enough exponential
// in the position. The slope belongs to the grinder, the level to grinder and
// brewer. So
//
//   - the slope is the median of the slopes of all pairs of brews with the same
//     grinder and brewer at different positions (Theil, Proceedings of the Royal
//     Netherlands Academy of Sciences 53, 1950; Sen, Journal of the American
//     Statistical Association 63, 1379-1389, 1968). Its 90 % interval inverts the
//     exact distribution of Kendall's statistic, ties included;
//   - the level is the median residual of the brews with the brewer asked about;
//   - noise is 1.4826 times the median absolute deviation of the residuals, with
//     Croux and Rousseeuw's factors for few brews (Computational Statistics 1,
//     411-428, 1992), drawn towards 0.08 with the weight of four brews.
//
// One stalled brew in four moves none of them far. Times at other doses are first
// brought to the dose asked about with the exponent that comes with each brew.
//
// # The setting
//
// The position for a wanted time is where the line crosses it; its interval is
// Fieller's (Journal of the Royal Statistical Society B 16, 175-185, 1954), which is
// unbounded as long as the slope can't be told from none. Then there is no answer
// but "not enough brews yet".
//
// # Between two coffees
//
// What stays in a grinder (h grams) is taken as well mixed: after p grams of the
// next coffee h exp(-p/h) of the last one are left, and at worst all of it falls
// into the next dose.
//
// Masses are in grams, times in seconds.
package grinder
