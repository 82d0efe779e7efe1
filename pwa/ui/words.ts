// The one catalogue of what the app says. A second language is a second set of these files. Sentences are short; an error
// says what happened, what is safe, and what to do.

import { brewing } from "./words/brewing.ts";
import { bench } from "./words/bench.ts";
import { club } from "./words/club.ts";
import { codes } from "./words/codes.ts";
import { common } from "./words/common.ts";
import { cupboard } from "./words/cupboard.ts";
import { log } from "./words/log.ts";
import { errors, fields, impossible, pour, surprising } from "./words/errors.ts";
import { home, items, recipe } from "./words/items.ts";
import { flights } from "./words/flights.ts";
import { guess } from "./words/guess.ts";
import { bowls } from "./words/bowls.ts";
import { sitting } from "./words/sitting.ts";
import { practice } from "./words/practice.ts";
import { data } from "./words/data.ts";
import { water } from "./words/water.ts";
import { about } from "./words/about.ts";

export const words = { ...common, ...codes, ...brewing, bench, club, cupboard, items, home, recipe, errors, fields, impossible, pour, surprising, flights, guess, sitting, bowls, practice, about, water, data, log };
