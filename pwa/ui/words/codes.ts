// Words for every closed list of codes that the core speaks in.

import type {
  Additive, Allergen, Asked, BookStatus, BrewState, Choice as DeclaredChoice, ClosedHow, Facet, FlightState, Level, Mark, Method, NoAnswer, Problem,
  RefusedWhat, Role, SampleState, Share, Source, SyncMark, TableStatus,
} from "../gen/types.ts";
import type { SyncState } from "../parts/sync/sync.tsx";

export const sync = {
  device: "on this device",
  way: "on its way",
  shared: "shared",
  refused: "could not be shared",
  late: "late",
  in: "in before the close",
} satisfies { [state in SyncState]: string };

export const share = {
  device: "on this device",
  onItsWay: "on its way",
  shared: "shared",
  refused: "could not be shared",
} satisfies { [share in Share]: string };

export const syncMark = {
  device: "on this device",
  waiting: "on this device",
  sending: "on its way",
  shared: "on this device, shared",
  trouble: "on this device; see why",
} satisfies { [mark in SyncMark]: string };

export const syncShort = {
  device: "on this device",
  waiting: "on this device",
  sending: "on its way",
  shared: "shared",
  trouble: "see why",
} satisfies { [mark in SyncMark]: string };

export const problem = {
  "": ["Everything goes out by itself", ""],
  offline: ["The server does not answer", "What you do is safe on this device and goes out by itself."],
  clock: ["This device's clock is far off", "What you wrote is safe and gets the right time by itself. Setting the clock helps."],
  "slow-down": ["The server asks to go slower", "The rest goes out by itself in a while."],
  "word-needed": ["The server is for its host's own people", "What you do is safe on this device. Open the link with the word that its host gives you: then it goes out."],
  restored: ["The server came back from an older copy", "Phones give back what it lost. An organiser then lets the club go on."],
  recovering: ["Your recovery is under way", "This device speaks for your code until then. What you do here is safe on it, and goes out afterwards by itself."],
  update: ["The club uses a newer version of the app", "What you have is safe. Close the app everywhere on this device and open it again: it updates itself."],
  "old-app": ["The server is newer than this app", "What you do is safe on this device. Close the app everywhere on it and open it again: it updates itself."],
  "old-server": ["The server is older than this app", "What you do is safe on this device. Ask who runs the server to update it."],
  tampering: ["What the server sent does not fit together", "This device stopped reading it, and keeps what it had. Tell your organiser."],
  refused: ["Something could not be shared", "It is safe on this device. Look at what it was and decide."],
  storage: ["This device could not save", "Make room on the device. Nothing that was shown as saved is lost."],
  "bad-host": ["This is not the server that the club lives on", "Ask your organiser for a new link."],
} satisfies { [problem in Problem]: [string, string] };

export const noAnswer = {
  "": "answers",
  silent: "does not answer",
  "old-app": "answers, and needs a newer app",
  "old-server": "answers, and is older than this app",
  "bad-host": "answers, and is another one",
} satisfies { [why in NoAnswer]: string };

export const role = { taster: "taster", organiser: "organiser" } satisfies { [role in Role]: string };

export const bookStatus = {
  in: "",
  out: "you are no longer in it",
  removed: "you were taken out of it",
  entering: "on the way in",
  stopped: "stopped: what the server sent does not fit together",
  update: "needs a newer version of the app",
  restored: "the server came back older",
} satisfies { [status in BookStatus]: string };

export const brewState = { planned: "not started", going: "brewing", done: "saved" } satisfies { [state in BrewState]: string };

export const method = {
  drip: "drip, through a filter",
  steep: "steep, then filter",
  press: "press",
  bowl: "cupping bowl",
  other: "another way",
} satisfies { [method in Method]: string };

export const mark = {
  start: "start",
  bloom: "bloom",
  pour: "pour",
  stir: "stir",
  swirl: "swirl",
  poured: "poured",
  break: "broke the crust",
  skim: "skimmed",
  cap: "closed",
  flip: "turned over",
  "open-valve": "valve open",
  press: "press",
  drain: "draining",
  decant: "poured off",
  bypass: "water added",
  taste: "tasted",
  hold: "held",
  on: "went on",
  end: "end",
} satisfies { [mark in Mark]: string };

export const asked = {
  "": "",
  planned: "It went as planned",
  roughly: "I know roughly, and correct the times",
  unknown: "I don't know",
} satisfies { [asked in Asked]: string };

export const flightState = {
  open: "open for guesses",
  closed: "closed, not yet unsealed",
  opening: "being unsealed",
  opened: "open",
} satisfies { [state in FlightState]: string };

export const sampleState = { open: "sealed", closed: "sealed, closed", unsealed: "open" } satisfies { [state in SampleState]: string };

export const closedHow = {
  "": "",
  hand: "closed by hand",
  time: "closed at its time",
  "opened-early": "opened early, which closed it",
} satisfies { [how in ClosedHow]: string };

export const facet = {
  origin: "Where from",
  process: "Process",
  variety: "Variety",
  decaf: "Decaf",
  altitude: "Altitude",
  roast: "Roast",
} satisfies { [facet in Facet]: string };

export const question = {
  origin: "where from?",
  process: "which process?",
  variety: "which variety?",
  decaf: "with caffeine, or not?",
  altitude: "how high?",
  roast: "how roasted?",
} satisfies { [facet in Facet]: string };

export const source = {
  label: "printed with the coffee",
  roaster: "the roaster says so",
  grower: "who grew or traded it says so",
  measured: "measured",
  hearsay: "hearsay: shown, not scored",
} satisfies { [source in Source]: string };

export const tableStatus = {
  scored: "",
  late: "late",
  holder: "knew it",
  none: "no guess",
  reading: "coming",
  unreadable: "does not open",
  unstated: "not scored",
} satisfies { [status in TableStatus]: string };

export const refusedWhat = {
  name: "your name",
  brew: "a brew",
  guess: "a guess",
  flight: "a flight",
  sample: "a sample",
  close: "a close",
  unseal: "an unsealing",
  invite: "an invitation",
  member: "a change of members",
  device: "a device",
  other: "an entry",
} satisfies { [what in RefusedWhat]: string };

export const level = {
  area: "area",
  country: "country",
  region: "region",
  family: "process family",
  process: "process",
  detail: "detail of the process",
  species: "species",
  group: "group of varieties",
  variety: "variety",
  decaf: "decaf or not",
  method: "way of decaffeination",
  band: "altitude band",
  origin: "origin",
  altitude: "altitude",
  roast: "roast",
} satisfies { [level in Level | Facet]: string };

export const choice = {
  nothing: "nothing added, no allergen known",
  something: "something, as follows",
  unknown: "not known",
} satisfies { [choice in DeclaredChoice]: string };

export const allergen = {
  milk: "milk",
  egg: "egg",
  fish: "fish",
  crustaceans: "crustaceans",
  molluscs: "molluscs",
  nuts: "tree nuts",
  peanuts: "peanuts",
  soya: "soya",
  gluten: "cereals with gluten",
  sesame: "sesame",
  celery: "celery",
  mustard: "mustard",
  lupin: "lupin",
  sulphites: "sulphites",
} satisfies { [allergen in Allergen]: string };

export const additive = {
  fruit: "fruit",
  spice: "spice",
  herb: "herbs",
  flower: "flowers",
  alcohol: "alcohol, or a barrel that held it",
  "dairy-culture": "dairy culture",
  yeast: "added yeast",
  sugar: "sugar",
  flavouring: "flavouring",
  other: "something else",
} satisfies { [additive in Additive]: string };
