// Package chance has the distributions that intervals are made of: the normal,
// Student's t and chi-squared, each as the probability of falling below a value
// and as its inverse.
//
// The t and chi-squared distributions come from the regularised incomplete beta
// and gamma functions by the series and continued fractions of the NIST Digital
// Library of Mathematical Functions (DLMF 8.7, 8.9 and 8.17), evaluated by the
// modified Lentz method (Thompson and Barnett, Journal of Computational Physics
// 64, 490-509, 1986). Inverses are found by halving an interval, which cannot
// fail and is quick enough for a screen.
//
// Results are good to about twelve digits. They are shown to one person on one
// phone and need not agree to the last bit between phones; what must is in
// package exact.
package chance
