// Package atlas knows what a coffee can be, and how likely each thing was before
// anybody tasted it.
//
// # Facets
//
// A facet is one question about a coffee: where from (origin), how made
// (process), which plant (variety), caffeine taken out (decaf), how high
// (altitude), how dark (roast). Each has a tree of answers. A node's id is its
// path, "origin/africa/ethiopia/guji", and never changes; its label may. Every
// inner node has a leaf for what the tree does not list ("elsewhere" in the
// origin tree, "other" in the rest), so every truth can be said. Three trees
// need none at their root, because their answers exhaust the question: decaf,
// and the two ordered ones, altitude and roast, whose nodes are bands from low
// to high.
//
// Nodes stand in tree order: a node before its children, siblings by the bytes
// of their last path element, bands from low to high. All sums run in that
// order, so that they come out the same everywhere.
//
// # Priors
//
// A [Prior] gives every node its share among its siblings, in whole
// ten-thousandths; the chance of a leaf is the product of the shares on its
// path. Process, variety and altitude have one such row of shares for each
// country (or kind of region), decaf and roast have one for all, so that
//
//	q = q(origin) q(process|origin) q(variety|origin) q(altitude|origin) q(decaf) q(roast)
//
// The numbers start from the facts embedded from the folder facts, whose files
// say what was read and what is unconfirmed, and move towards what the club
// has drunk ([Prior.Learn]). A flight conditions them on what it declared in
// the open ([Prior.Narrow]). [Prior.Encode] gives the bytes that a flight pins
// by hash.
//
// # Joints
//
// A [Joint] is a distribution over whole coffees in the same factored form, in
// floating point: the prior's own ([Prior.Joint]), or one that a belief moved
// ([Joint.Reweigh]). An [Event] is a set of coffees, by a set of leaves in some
// facets.
package atlas
