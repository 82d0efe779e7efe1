// Words of the sitting: its steps, what is noticed, and the cup that cools.

import type { CupStage, SittingStep } from "../gen/types.ts";

export const sitting = {
  line: "The steps of this sitting",
  step: { look: "look", smell: "smell", brew: "brew", wet: "wet", cup: "cup", guess: "guess" } satisfies { [step in SittingStep]: string },
  stepDone: "done",
  onWith: {
    look: "On with your eyes",
    smell: "On with your nose",
    brew: "On with the brew",
    wet: "On with the wet grounds",
    cup: "On with the cup",
    guess: "On with the guess",
  } satisfies { [step in SittingStep]: string },
  hunch: "Guess in ten seconds first",

  title: (of: string, stage: string) => `${of}, ${stage}`,
  cup: "the cup",
  lookFor: {
    beans: "Size, shape, evenness, colour, silverskin, cracks.",
    fragrance: "Grind it and smell at once: the first seconds carry most.",
    aroma: "Lean over the wet grounds while they steam. Steam scalds: not too near.",
    hot: "As soon as it no longer scalds. Slurp, then breathe out through the nose.",
    warm: "Now most of it shows: sweet, acid, fruit.",
    cool: "What stays when it is cool, and what has come.",
  } satisfies { [stage in CupStage]: string },
  what: "What is there?",
  add: "Add",
  found: "Words that begin so",
  picked: "To be kept",
  before: "Said before",
  keep: "Keep these words",
  kept: "What you noticed",
  stages: "When",
  notices: "What I notice",
  tableNoticed: "What everybody noticed, stage by stage",

  about: (degrees: string) => `about ${degrees}`,
  tooHot: (minutes: string) => `too hot to taste for ${minutes}`,
  notesIn: (stage: string, minutes: string) => `${stage} notes in ${minutes}`,
  notesNow: (stage: string) => `${stage} notes now`,
  minutes: (count: number) => `${count} min`,
  seconds: (count: number) => `${count} s`,
  call: (of: string, degrees: string, stage: string) => `${of}: about ${degrees}, ${stage} notes now`,
  notRead: "Two temperatures of this cup, a few minutes apart, tell when it is good to taste.",
  readOnce: "One more, a few minutes later, and the clock knows this cup.",
  clock: "The cup as it cools",
  callAt: "When",
  callStage: "Notes",
  callDegrees: "About",
  reading: "The cup has now",
  readingHint: "From a thermometer in the cup",
  readingKeep: "Write it down",
  readings: "Measured",
  wait: (hottest: string) => `Nothing is to be drunk above ${hottest}: it scalds, and hotter drinks harm in the long run.`,

  next: (step: string, seconds: string) => `${step} in ${seconds}`,
  nextTo: (step: string, weight: string, seconds: string) => `${step} to ${weight} in ${seconds}`,
  now: (step: string) => `${step} now`,
  held: "held",
  over: "the plan is over",
  bowls: (count: number) => `${count} bowls`,
  bowlNext: (step: string, bowl: number, seconds: string) => `bowl ${bowl}: ${step} in ${seconds}`,
  bowlNow: (step: string, bowl: number) => `bowl ${bowl}: ${step} now`,
  going: "Brews that run and cups that cool",

  attempts: (weight: string, count: number) => (count === 0 ? `${weight}: no brew like your last` : count === 1 ? `${weight}: one brew` : `${weight}: ${numbers[count] ?? count} brews`),
  attemptsOver: (weight: string) => `, and ${weight} to taste again knowing`,
  brewLast: (coffee: string) => `Brew again: ${coffee}`,
};

const numbers = ["none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
