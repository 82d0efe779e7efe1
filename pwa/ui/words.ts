// The one catalogue of what the app says. A second language is a second set of these files. Sentences are short; an error
// says what happened, what is safe, and what to do.

export * from "./words/brewing.ts";
export { bench } from "./words/bench.ts";
export { club } from "./words/club.ts";
export * from "./words/codes.ts";
export * from "./words/common.ts";
export { cupboard } from "./words/cupboard.ts";
export { log } from "./words/log.ts";
export { errors, fields, impossible, pour, surprising } from "./words/errors.ts";
export { home, items, recipe } from "./words/items.ts";
export { flights } from "./words/flights.ts";
export { guess } from "./words/guess.ts";
export { bowls } from "./words/bowls.ts";
export { sitting } from "./words/sitting.ts";
export { practice } from "./words/practice.ts";
export { data } from "./words/data.ts";
export { water } from "./words/water.ts";
export { about } from "./words/about.ts";
