// Package guess turns what a person says about a coffee into a belief about the
// whole coffee, and shows what is at stake.
//
// # What is said
//
// A person gives masses, whole ten-thousandths, to nodes of the atlas: Africa
// 78 %, Ethiopia 66 %. A mass is the whole chance of the node, with all below
// it. What is not said stays as likely, within the rest, as it was before. Of
// each facet the masses must fit: a node's children together have no more than
// the node, and exactly as much when nothing else is left in it.
//
// # What it means
//
// The belief is the distribution over whole coffees that agrees with everything
// said and is nearest to the prior, by relative entropy. So saying "Ethiopia,
// 80 %" makes the varieties of Ethiopia likelier by itself, and a facet about
// which nothing is said follows from the rest. It is found by iterative
// proportional fitting (Csiszár, I-divergence geometry of probability
// distributions, Annals of Probability 3, 1975): each facet's masses partition
// its leaves into cells, a node less the nodes said below it; sweeping over the
// facets in order, each cell's coffees are multiplied by the cell's mass over
// what the cell has. Because every constraint is about one facet, the result
// keeps the prior's form, factored given the origin, and a sweep costs a few
// thousand multiplications. Sweeps end when no cell moves by more than 1e-12,
// or after 1,000; every sum runs in tree order, so every phone gets the same.
package guess
