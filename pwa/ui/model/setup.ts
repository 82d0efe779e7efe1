// How one choice of a setup moves the others.

import type { Brewer, BrewSetup, CupboardView, Geometry, Method, Recipe } from "../gen/types.ts";

/** How water and coffee meet in a shape. */
export function fitting(geometry: Geometry): Method {
  switch (geometry) {
    case "cone":
    case "flat-bed":
      return "drip";
    case "steep-and-drain":
      return "steep";
    case "press-inverted":
    case "press-upright":
      return "press";
    case "cupping-bowl":
      return "bowl";
    default:
      return "other";
  }
}

/** The water that a kitchen mostly uses, where none is said yet; one that was put away is offered nowhere. */
export function withUsualWater(setup: BrewSetup, cupboard: CupboardView | undefined): BrewSetup {
  const usual = cupboard?.waters.find(({ water, kept }) => water.id === cupboard.home.water && !kept.away)?.water;
  return usual && setup.waterID === "" && setup.waterName === "" ? { ...setup, waterID: usual.id, waterName: usual.name } : setup;
}

const round = (value: number) => Math.round(value * 10) / 10;

/** Another dose keeps the ratio: the water follows. */
export function withDose(setup: BrewSetup, dose: number): Partial<BrewSetup> {
  const ratio = setup.dose > 0 && setup.water > 0 ? setup.water / setup.dose : setup.ratio;
  const follows = dose > 0 && ratio > 0 && setup.steps.length > 0;
  return follows ? { dose, ratio, water: round(dose * ratio) } : { dose };
}

export function chooseBrewer(setup: BrewSetup, brewer: Brewer | undefined): Partial<BrewSetup> {
  if (!brewer) return { brewerID: "", brewer: "" };
  const { id, name, geometry, filter } = brewer;
  return { brewerID: id, brewer: name, geometry, method: fitting(geometry), filter: filter || setup.filter };
}

/** A recipe brings its steps and its ratio; a dose and a brewer that are there already stay. */
export function chooseRecipe(setup: BrewSetup, recipe: Recipe | undefined, boiling: number): Partial<BrewSetup> {
  if (!recipe) return { recipeID: "", recipe: "", steps: [] };
  const dose = setup.dose > 0 ? setup.dose : recipe.dose;
  const kettle = boiling > 0 ? Math.min(recipe.kettle, Math.floor(boiling)) : recipe.kettle;
  return {
    recipeID: recipe.id,
    recipe: recipe.title,
    steps: recipe.steps,
    dose,
    ratio: recipe.ratio,
    water: round(dose * recipe.ratio),
    kettle,
    ...(setup.geometry === "" && { geometry: recipe.geometry, method: fitting(recipe.geometry) }),
    ...(setup.filter === "" && { filter: recipe.filter }),
  };
}
