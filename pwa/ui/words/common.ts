// Words that every screen uses.

import type { First, Next } from "../gen/types.ts";

export const common = {
  back: "Back",
  save: "Save",
  cancel: "Cancel",
  change: "Change",
  remove: "Remove",
  done: "Done",
  more: "More",
  none: "none",
  yes: "Yes",
  no: "No",
  you: "you",
  loading: "One moment",
  again: "Try again",
  saved: "Saved on this device",
  copy: "Copy",
  copied: "Copied",
  share: "Send it",
  skipToContent: "To the content",
  notFound: "There is nothing here",
  notFoundText: "This address shows nothing on this device. It may belong to a club that you are not in, or be mistyped.",
  toTonight: "To tonight",
  itIsRight: "It is right, keep it",
  unnamed: "no name yet",
};

export const places = {
  label: "Places",
  tonight: "Tonight",
  bench: "Bench",
  flights: "Flights",
  practice: "Practice",
  cupboard: "Cupboard",
  club: "Club",
};

export const units = { gram: "g", celsius: "°C", percent: "%", metre: "m", clock: "min:s", days: "days", persons: "persons" };
export const time = { now: "now" };

export const field = {
  notANumber: "This is not a number. Write it as 15.5 or 15,5.",
  whole: "Whole numbers only.",
  notADuration: "Write minutes and seconds as 2:40, or seconds as 160.",
  outside: (low: string, high: string, unit: string | undefined) => `From ${low} to ${high}${unit ? ` ${unit}` : ""}.`,
  surprising: (value: string, unit: string | undefined) => `${value}${unit ? ` ${unit}` : ""} is unusual. Is it right?`,
  missing: "This is still needed.",
  optional: "may stay empty",
};

export const scale = {
  tap: "tap where it is",
  empty: "not marked",
  at: (value: number) => `${value} of 100`,
};

export const tonight = {
  title: "Tonight",
  placeOf: (place: number, of: number, title: string) => `sample ${place} of ${of}${title && `, from ${title}`}`,
  left: "Left",
  leftOf: (left: string, of: string) => `${left} g of ${of} g`,
  closes: "Closes",
  closesByHand: "when the organiser says so",
  declared: "Declared",
  nextStep: {
    look: "Begin with your eyes",
    brew: "Brew it",
    guess: "Say what you think",
    revise: "Look at your guess again",
    wait: "Your guess is sealed",
    close: "Close it",
    unseal: "Unseal it",
    ask: "It is open: look?",
    result: "See what it was",
    kept: "See what it was",
  } satisfies { [next in Next]: string },
  more: (count: number) => (count === 1 ? "One more sample waits" : `${count} more samples wait`),
  opened: (code: string) => `${code} is open`,
  openedFrom: (title: string) => `${title && `from ${title}: `}it is open`,
  openedAsks: "You have not guessed. It stays closed until you say so.",
  openedLook: "See what it was",
  none: "No sample is waiting",
  noneText: "Brew your own coffee and keep what you notice. When a club sends you a sample, it lies here.",
  brewOwn: "Brew your own coffee",
  firsts: "First, at your own pace",
  first: {
    name: ["Say what to call you", "Your clubs see this name."],
    club: ["Join a club, or begin one", "With a link from a friend, or with one that you send."],
    kitchen: ["Write down what is in your kitchen", "Brewer, grinder, water: half a minute each."],
    "practice-cup": ["Brew a practice cup", "Any coffee you have: brew it, and say what you notice."],
    recovery: ["Print your recovery code", "It brings everything back when the phone is lost."],
  } satisfies { [first in First]: [string, string] },
  brewing: "brewing",
  cooling: "cooling",
  ownCoffee: "your own coffee",
};

export const shell = {
  starting: "Opening your notebook",
  elsewhere: "Hushcup is open in another tab",
  elsewhereText: "Only one tab at a time writes in your notebook. Everything is safe there.",
  takeHere: "Use it here",
  restarted: "Something went wrong inside and was started again. What was saved is safe.",
  stopped: "Hushcup cannot go on",
  stoppedText: "What was saved on this device is safe. Load the page again; if this stays, close other tabs of Hushcup or restart the browser.",
  reload: "Load again",
  insecure: "This address is not secure",
  insecureText:
    "A browser keeps a notebook and opens it offline only on a secure address: one that begins with https, or localhost on the computer itself. Nothing was created here.",
  insecureDo: "Ask who runs this server for its secure address. The server prints it when it starts.",
  noWasm: "This browser does not run Hushcup",
  noWasmText:
    "Hushcup's core is a WebAssembly program, and this browser forbids or lacks it. A lockdown mode or a strict setting may be the reason: allow WebAssembly for this address, or use another browser.",
  noStorage: "This browser keeps nothing",
  noStorageText: "A private window or a strict setting forbids storage here. Open Hushcup in an ordinary window.",
  update: "A new version is ready",
  updateText: "It replaces this one now, or at the next start by itself. Your data stays as it is.",
  updateNow: "Use it now",
};
