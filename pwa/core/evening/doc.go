// Package evening draws the tree of an evening's trials and says exactly what
// changed from one to the next.
//
// A brew has a parent: the brew that it was a change of. What was set up (Setup) is
// compared, never what came of it: time, TDS and taste are results.
//
// # What counts as a change
//
//   - A value that differs by more than it can be set or read (Tolerances).
//   - Dose and water are one thing in two numbers. More of both at one ratio is a
//     change of dose; more water at one dose is a change of ratio. More coffee to
//     the same water is one move of the hand, a change of dose that the ratio
//     follows: both are listed, and the reason says that they can't be told apart.
//   - Steps are matched by kind in order, as many as can be (the longest common
//     subsequence; Wagner and Fischer, Journal of the ACM 21, 168-173, 1974). One
//     that has no match was added or removed. Pours are told by the share of the
//     water that they reach, so moving one border changes one number.
//   - A value that is known on one side only may have changed. It is listed, and
//     with it nothing is certain.
//
// If one thing changed, and all else is known to be the same, the cup's difference
// can be read as its effect, as far as cups repeat at all (package repeat). If
// several did, no cause can be read. If none did, it is a repetition.
package evening
