// The sentences of reasons: one for each code of core/response, core/repeat, core/scaling and core/grinder. A test reads those
// packages and fails for a code that has none.

import type { Reason } from "../gen/types.ts";
import { formatNumber } from "../model/numbers.ts";
import { formatWeight } from "../model/units.ts";
import * as brewing from "./brewing.ts";

export type ReasonPackage = "response" | "repeat" | "scaling" | "grinder";

type Sentence = (reason: Reason) => string;

const count = (n: number, one: string, many: string) => (Math.round(n) === 1 ? one : `${formatNumber(n, 0)} ${many}`);
const brews = (n: number) => count(n, "one brew", "brews");
const cups = (n: number) => count(n, "one cup", "cups");
const grams = (n: number) => formatWeight(n, 1);
const share = (n: number) => `${formatNumber(100 * n, 0)} %`;
/** A balance goes from -1, far too little, to 1, far too much; people read it in hundredths. */
const marks = (n: number) => formatNumber(Math.abs(100 * n), 0);
const attribute = ({ of }: Reason) => (brewing.attribute as { [code: string]: string })[of] ?? of;
const quantity = ({ of }: Reason) => (brewing.quantity as { [code: string]: string })[of] ?? of;
const tasted = ({ of }: Reason) => of in brewing.attribute;

/** What a step up of a variable is, in hands. */
const stepUp: { [variable: string]: string } = {
  grind: "a finer grind",
  ratio: "more water to a gram",
  temperature: "a hotter kettle",
  agitation: "more stirring",
};
const variable = (code: string) => (brewing.variable as { [code: string]: string })[code] ?? code;

const response: { [code: string]: Sentence } = {
  "most-off": (r) => `Furthest off is ${attribute(r)}: too ${r.n < 0 ? "little" : "much"}, by ${marks(r.n)} of 100.`,
  "moves-most": (r) => `This should bring ${attribute(r)} nearer by ${marks(r.n)}.`,
  costs: (r) => `It may take ${attribute(r)} further off, by ${marks(r.n)}.`,
  "known-direction": (r) => `The trade knows that ${stepUp[r.by] ?? variable(r.by)} gives ${r.n < 0 ? "less" : "more"} ${attribute(r)}.`,
  "own-cups": (r) => `${cups(r.n)} of your own ${Math.round(r.n) === 1 ? "is" : "are"} behind it.`,
  learned: (r) =>
    r.n < 0.005
      ? `What ${variable(r.by)} does to ${attribute(r)} is still the trade's word, not yours.`
      : `Of what ${variable(r.by)} does to ${attribute(r)}, ${share(r.n)} is known from your cups; the rest is the trade's word.`,
  "by-extraction": () => "Heat acts through strength and extraction, hardly by itself.",
  "no-cups": () => "You have not yet noted how a cup of this coffee stood.",
  "few-cups": (r) => `Only ${cups(r.n)} of this coffee ${Math.round(r.n) === 1 ? "is" : "are"} noted.`,
  noise: (r) => `Cups of one setup differ by ${marks(r.n)} from taste to taste: as much as this is off.`,
  conflict: () => "What would help one side of the cup would harm another.",
  "all-held": () => "Nothing may be changed here: bowls are brewed alike, and a setup must be known to be moved.",
  "in-agreement": (r) => `On average it is off by no more than ${marks(r.n)} of 100.`,
  "coarser-upwards": () => "Nothing tells yet which way this grinder goes: higher is taken for coarser. Its two stops in the Cupboard would tell.",
  "would-teach": (r) => `A brew with another ${variable(r.by)} would teach most: ${share(r.n)} of what it does to ${attribute(r)} is not known.`,
};

const repeat: { [code: string]: Sentence } = {
  beyond: (r) =>
    tasted(r)
      ? `${quantity(r)} differs by ${marks(r.n)} of 100: more than your brews of one recipe do.`
      : `${quantity(r)} differs by ${share(Math.abs(r.n))}: more than your brews of one recipe do.${r.of === "tds" ? " A stronger cup tastes less sweet: match the TDS to compare coffees fairly." : ""}`,
  within: (r) => `Most apart is ${quantity(r)}, by ${marks(r.n)} of 100: no more than your brews of one recipe.`,
  repeats: (r) => `Judged by ${count(r.n, "one repetition", "repetitions")} of your own.`,
  "not-enough-repeats": (r) =>
    Math.round(r.n) === 0
      ? "No brew was repeated yet with its cup noted. Brew one recipe twice and note both."
      : `Only ${count(r.n, "one repetition", "repetitions")} with ${quantity(r)} noted so far: two are needed.`,
  "not-tasted": () => "How they stood was not noted of both.",
  "not-measured": () => "Neither time nor TDS is known of both, so it is not certain that they were brewed alike.",
  "methods-differ": () => "One is brewed, one is a bowl.",
};

const scaling: { [code: string]: Sentence } = {
  geometry: () => "The brewer's shape alone says so.",
  fitted: (r) => `From ${brews(r.n)} in brewers of this shape.`,
  "not-enough-brews": (r) => (r.n < 1 ? "Not enough brews yet: none in this shape." : `Not enough brews yet: ${brews(r.n)} in this shape.`),
  "doses-alike": (r) => `${brews(r.n)}, but their doses are too alike to tell how the dose moves the time.`,
  "brewer-unknown": () => "No brew in this brewer yet.",
  "grinder-unknown": () => "No brew with this grinder yet.",
  "beyond-settings": () => "This grind is far from those you have brewed.",
  "beyond-doses": (r) => `Beyond the doses you have brewed; the nearest is ${grams(r.n)}.`,
  "small-dose": (r) => `Below ${grams(r.n)} the paper decides how fast it drains.`,
  steeped: () => "Here the clock decides, not the bed.",
};

const grinder: { [code: string]: Sentence } = {
  fitted: (r) => `From ${brews(r.n)} with this grinder in this brewer.`,
  "slope-borrowed": (r) => `How a step changes the time also comes from ${brews(r.n)} in other brewers.`,
  "not-enough-brews": (r) => (r.n < 1 ? "Not enough brews yet: none with this grinder." : `Not enough brews yet: ${brews(r.n)} with this grinder.`),
  "settings-alike": (r) => `${brews(r.n)}, but at too few settings to tell how the setting moves the time.`,
  "no-trend": (r) => `In ${brews(r.n)} the time does not go with the setting yet.`,
  "brewer-unknown": (r) => `${brews(r.n)} with this grinder, none in this brewer.`,
  extrapolated: (r) => `${count(r.n, "one step", "steps")} beyond the settings that you have brewed at.`,
  "other-doses": () => "It leans on brews at quite other doses.",
  "past-stop": (r) => `The scale ends ${count(r.n, "one step", "steps")} before it.`,
  "same-coffee": () => "The same coffee was ground before.",
  "first-coffee": () => "What was ground before is not known.",
  "coffee-changed": (r) => `About ${grams(r.n)} of the last coffee stays in the grinder.`,
  "stays-little": (r) => `Only ${grams(r.n)} stays in the grinder.`,
  "stays-estimated": (r) => `What stays in it was not measured; it is taken as ${grams(r.n)}.`,
  "after-infused": (r) => `The last coffee had something added: it is tasted at a ${formatNumber(r.n, 0)}th as much.`,
  "after-allergen": () => "The last coffee declared an allergen. Grinding away does not make it safe: clean the grinder.",
  "grind-last": () => "Leave this coffee for last: it marks the grinder.",
  "allergen-grinder": () => "From now on this grinder carries traces of what this coffee declares.",
};

export const reasonSentences: { [pkg in ReasonPackage]: { [code: string]: Sentence } } = { response, repeat, scaling, grinder };

/** What a reason of one of the core's packages says to a person. */
export function reasonSentence(pkg: ReasonPackage, reason: Reason): string {
  const sentence = reasonSentences[pkg][reason.code]?.(reason) ?? "";
  return sentence && sentence[0]!.toUpperCase() + sentence.slice(1);
}
