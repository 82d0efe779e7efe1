// Words for the closed lists of codes that brewing and the Cupboard speak in.

import type {
  AdviceVerdict, Attribute, BrewCaution, Burr, CaffeineLevel, ChangeField, ChangeKind, ChangeVerdict, CoffeeKind, CompareVerdict, CupStage,
  Filter, Geometry, GrinderScale, GrindWord, HardnessUnit, InstrumentKind, ItemKind, PourPattern, Quantity, Side, StepKind, TradeRange, Variable, WaterSource,
} from "../gen/types.ts";

export const itemKind = {
  coffee: "Coffees",
  brewer: "Brewers",
  grinder: "Grinders",
  water: "Waters",
  concentrate: "Concentrates",
  instrument: "Scales and meters",
  recipe: "Recipes",
} satisfies { [kind in ItemKind]: string };

export const coffeeKind = {
  regular: "with caffeine, species not known",
  arabica: "arabica",
  canephora: "canephora",
  decaf: "decaffeinated",
} satisfies { [kind in CoffeeKind]: string };

export const geometry = {
  cone: "cone, ribs, one large hole",
  "flat-bed": "flat bed, several holes",
  "steep-and-drain": "steeper with a valve",
  "press-inverted": "press, inverted",
  "press-upright": "press, upright",
  "cupping-bowl": "cupping bowl",
  other: "another shape",
} satisfies { [geometry in Geometry]: string };

export const filter = { "": "not said", paper: "paper", metal: "metal", cloth: "cloth", none: "none" } satisfies { [filter in Filter]: string };
export const burr = { "": "not said", conical: "conical burrs", flat: "flat burrs", blade: "blades", other: "something else" } satisfies { [burr in Burr]: string };

export const grinderScale = {
  clicks: "clicks from zero: 24",
  turns: "turns and clicks: 1+12",
  numbers: "numbers on a dial: 4.5",
  letters: "letters, with clicks between: C+2",
  words: "in my own words",
} satisfies { [scale in GrinderScale]: string };

export const waterSource = { label: "from a label", test: "from a test", mixed: "mixed myself" } satisfies { [source in WaterSource]: string };
export const instrumentKind = { scale: "scale", refractometer: "refractometer", thermometer: "thermometer" } satisfies { [kind in InstrumentKind]: string };

export const grindWord = {
  "": "not said",
  fine: "fine",
  "medium-fine": "medium-fine",
  medium: "medium",
  "medium-coarse": "medium-coarse",
  coarse: "coarse",
} satisfies { [grind in GrindWord]: string };

export const step = {
  preheat: "warm the brewer",
  rinse: "rinse the filter, pour it away",
  add: "put the coffee in, level it",
  bloom: "bloom",
  pour: "pour",
  stir: "stir",
  swirl: "swirl",
  break: "break the crust",
  skim: "skim",
  cap: "close it",
  flip: "turn it over",
  "open-valve": "open the valve",
  wait: "wait",
  press: "press",
  drain: "let it drain",
  decant: "pour it off",
  bypass: "add water to the cup",
  taste: "taste",
} satisfies { [kind in StepKind]: string };

export const pattern = { "": "any way", centre: "in the centre", spiral: "in a spiral", evenly: "evenly" } satisfies { [pattern in PourPattern]: string };

export const hardnessUnit = {
  "mg/L": "mg/L as CaCO3",
  "°dH": "°dH, German degrees",
  "°fH": "°fH, French degrees",
  "°Clark": "°Clark, English degrees",
  gpg: "gpg, grains a US gallon",
  "mmol/L": "mmol/L",
} satisfies { [unit in HardnessUnit]: string };

export const caution = {
  "hot-water": "Hot water and steam scald.",
  "hot-glass": "Glass cracks when it goes from cold to hot, and burns.",
  "flip-scalds": "A press that stands on its plunger can come apart: hold both parts, over a sink.",
  "press-gently": "Press slowly and stop when it resists: pressure throws hot water.",
  "valve-drips": "Put the cup below before the valve opens.",
  "wait-to-taste": "Wait until it is at most 65 °C before you taste.",
} satisfies { [caution in BrewCaution]: string };

export const caffeineLevel = { under: "within it", maybe: "perhaps past it", over: "past it" } satisfies { [level in CaffeineLevel]: string };

export const changeVerdict = {
  repeated: "Nothing changed: this tells how equal your brews are.",
  one: "One thing changed: what differs in the cup can be its effect, if it is more than your brews of one recipe differ.",
  several: "More than one thing changed: no cause can be read from this.",
  unsure: "Not everything is known of both, so no cause is certain.",
} satisfies { [verdict in ChangeVerdict]: string };

export const changeField = {
  coffee: "coffee",
  brewer: "brewer",
  filter: "filter",
  grinder: "grinder",
  grind: "grind",
  "since-grinding": "minutes since grinding",
  scoops: "scoops",
  dose: "dose",
  ratio: "ratio",
  water: "water",
  "water-kind": "kind of water",
  temperature: "kettle",
  step: "step",
  "step-to": "share of the water",
  "step-seconds": "time of a step",
  "step-temperature": "temperature of a step",
  "step-times": "strokes",
  "step-manner": "way of pouring",
} satisfies { [field in ChangeField]: string };

export const changeKind = {
  changed: "changed",
  unknown: "known of one only",
  added: "added",
  removed: "left out",
  followed: "follows from it",
} satisfies { [kind in ChangeKind]: string };

export const attribute = { acid: "acid", sweet: "sweet", bitter: "bitter", body: "body", finish: "finish" } satisfies { [attribute in Attribute]: string };

export const quantity = {
  seconds: "time",
  beverage: "in the cup",
  tds: "TDS",
  ey: "extraction",
  acid: "acid",
  sweet: "sweet",
  bitter: "bitter",
  body: "body",
  finish: "finish",
} satisfies { [quantity in Quantity]: string };

export const variable = { "": "", grind: "grind", ratio: "ratio", temperature: "kettle", agitation: "stirs and swirls" } satisfies { [variable in Variable]: string };

export const advice = {
  few: "Not enough brews yet",
  unsure: "The cups don't say what would help",
  keep: "It is in agreement: leave it as it is",
  change: "Change one thing",
} satisfies { [verdict in AdviceVerdict]: string };

export const compare = {
  few: "Not enough repeated brews yet to tell.",
  methods: "A brewed cup and a bowl are never compared.",
  none: "They taste no further apart than two brews of one recipe.",
  brewing: "They taste apart, but were not brewed alike: it may be the brewing.",
  "same-coffee": "They taste apart, and it is one coffee: it is something else.",
  coffee: "They taste apart and were brewed alike: it can be the coffee.",
} satisfies { [verdict in CompareVerdict]: string };

export const tradeRange = {
  "trade-2015": "trade range, 2015",
  "trade-europe": "trade range, Europe",
  "trade-norway": "trade range, Norway",
} satisfies { [range in TradeRange]: string };

export const side = { below: "below", within: "within", above: "above" } satisfies { [side in Side]: string };
export const cupStage = { beans: "dry beans", fragrance: "dry grounds", aroma: "wet grounds", hot: "hot", warm: "warm", cool: "cool" } satisfies { [stage in CupStage]: string };
