// Package water computes brewing water: hardness and alkalinity from a label,
// units, blends towards a target, and grams of salts.
//
// Concentrations are milligrams to a litre. Hardness and alkalinity are stated
// as calcium carbonate: calcium counts 2.497, magnesium 4.118 and bicarbonate
// 0.820 times its mass, by equivalent weights (50.04 g of CaCO3 to an equivalent;
// 20.04 of Ca, 12.15 of Mg, 61.02 of HCO3).
//
// A concentrate is never drunk. Salts must be food-grade, and of the hydrate that
// is stated: another one has another mass of the same ion.
package water
