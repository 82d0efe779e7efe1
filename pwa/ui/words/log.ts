// Words for looking back: the log, two brews side by side, an evening's tries, what to change next, the chart.

export { reasonSentence } from "./reasons.ts";
