// Words for refusals, by their stable code: what happened, and what to do. A code without words here shows the sentence that
// came with it.

import { formatNumber } from "../model/numbers.ts";
import { formatClock } from "../model/times.ts";
import { formatTemperature, formatWeight } from "../model/units.ts";

export interface ErrorWords {
  text: string;
  hint: string;
}

const say = (text: string, hint = ""): ErrorWords => ({ text, hint });

/** What is wrong with a number, by the core's code; most is its limit as it is read. */
const questions: { [why: string]: ((most: string) => string) | undefined } = {
  "too-little": (least) => `less than ${least} is unusual. Is it right?`,
  "too-much": (most) => `more than ${most} is unusual. Is it right?`,
  "above-boiling": (boils) => `at your home water boils at about ${boils}. Is this right, and the altitude of your home?`,
  "more-than-went-in": (most) => `more than the ${most} of water that went in. Is it right?`,
};

const refusals: { [why: string]: ((most: string) => string) | undefined } = {
  "not-a-number": () => "this is not a number.",
  "too-little": (least) => `less than ${least} cannot be.`,
  "too-much": (most) => `more than ${most} cannot be.`,
  "above-boiling": (most) => `water gets no hotter than ${most} anywhere in an open kettle.`,
  "more-than-went-in": (most) => `no more than ${most} can come of this dose and water.`,
  backwards: () => "it begins before the pour above it, or ends with less.",
};

/** A limit as it is read, in the person's units. */
const limits: { [field: string]: ((limit: number) => string) | undefined } = {
  ratio: (parts) => `1:${formatNumber(parts)}`,
  kettle: formatTemperature,
  slurry: formatTemperature,
  tds: (percent) => `${formatNumber(percent)} %`,
  extraction: (percent) => `${formatNumber(percent)} % of the coffee in the cup`,
  drawdown: (seconds) => formatClock(1000 * seconds),
};

const limitOf = (field: string, limit: number) => (limits[field] ?? formatWeight)(limit);

/** A surprising value, which may be right. */
export function surprising(name: string, field: string, why = "", limit = 0): ErrorWords {
  return say(`${name}: ${questions[why]?.(limitOf(field, limit)) ?? "this is unusual. Is it right?"}`);
}

/** A value that cannot be, alone or with the others. */
export function impossible(name: string, field: string, text: string, why = "", limit = 0): ErrorWords {
  const said = refusals[why]?.(limitOf(field, limit)) ?? text[0]!.toLowerCase() + text.slice(1);
  return say(`${name}: ${said}`, why === "more-than-went-in" || why === "backwards" || field === "extraction" ? "Look at it, and at the numbers that belong to it." : "");
}

/** "pours.2" is the third pour. */
export const pour = (index: number) => `Pour ${index + 1}`;

/** The arguments that may surprise, as the screens label them. */
export const fields: { [field: string]: string } = {
  dose: "Dose",
  water: "Water",
  ratio: "Ratio",
  kettle: "Kettle",
  drawdown: "Drawdown",
  beverage: "In the cup",
  tds: "TDS",
  grams: "Grams for each home",
  slurry: "In the bed",
  extraction: "TDS with this dose and water",
  bypass: "Water added",
  scoops: "Scoops",
  sinceGrinding: "Since grinding",
  altitudeLow: "Altitude",
  altitudeHigh: "Altitude",
};

export const errors: { [code: string]: ErrorWords | undefined } = {
  unknown: say("Something went wrong.", "What was saved is safe. Try once more; if it stays, load the app again."),
  "core-restarted": say("Something went wrong inside, and was started again.", "What was saved is safe. Look whether this was, and do it again if not."),
  "disk-full": say("This device has no room left, so nothing was saved.", "Make room and save again. What was saved before is safe."),
  "storage-failed": say("This device could not save.", "Try again. If it stays, close other tabs of Hushcup or restart the browser."),

  // coming in
  "invite-spent": say("This invitation is used up.", "Ask your organiser for another."),
  "invite-expired": say("This invitation is over.", "Ask your organiser for another."),
  "invite-revoked": say("This invitation was ended.", "Ask your organiser for another."),
  "invite-ended": say("This invitation was ended.", "Ask your organiser for another."),
  "no-such-invite": say("The server does not know this invitation yet.", "It works as soon as the phone that made it has been online."),
  "no-such-book": say("The server does not know this club yet.", "It works as soon as the phone that made it has been online."),
  "link-damaged": say("This link is not whole.", "Copy all of it, and paste it again."),
  "link-newer": say("This link was made by a newer version of the app.", "Load the app again to update it."),
  "other-host": say("This link belongs to another server.", "Open the link in the browser: it brings the app of its own server."),
  "bad-host": say("This is not the server that the club lives on.", "Open the app by the address of the link."),
  "wrong-host": say("This is not the server that the club lives on.", "Open the app by the address of the link."),
  "member-known": say("You are in this club already."),
  "book-members": say("This club is full."),

  // the recovery code
  "code-length": say("A recovery code has thirty letters and digits.", "Compare it with the paper, group by group."),
  "code-letter": say("There is a sign in it that no recovery code has.", "Compare it with the paper, group by group."),
  "code-damaged": say("A letter or digit of it is wrong.", "Compare it with the paper, group by group."),
  "code-newer": say("This code was made by a newer version of the app.", "Load the app again to update it."),
  "no-such-code": say("This code opens nothing here.", "It may have been used or replaced, or belong to another server."),

  // what a club allows
  "not-a-member": say("You are not in this club any more.", "What is on this device stays."),
  "not-an-organiser": say("Only an organiser may do this."),
  "not-a-holder": say("Only who keeps or holds this sample may open it."),
  "not-the-keeper": say("Only who keeps this sample may do this."),
  "last-organiser": say("A club needs an organiser.", "Make somebody else organiser first."),
  "not-yourself": say("This cannot be done to oneself here.", "To leave, choose 'Leave this club'."),
  "sample-closed": say("The close came first.", "It is kept, shown as late, and not scored."),
  "flight-closed": say("This flight is closed."),
  "closing-passed": say("The closing time is over and cannot be moved any more."),
  "already-open": say("It is open already."),
  "not-closed": say("It is not closed yet.", "Close it first."),
  "written-once": say("This was written once, and stays as it is."),
  "code-taken": say("Two samples drew the same code.", "Seal it once more: a new code is drawn."),
  "wrong-sample-key": say("The key does not belong to this sample.", "Nothing was opened."),

  // how it goes out
  "slow-down": say("The server asks to go slower.", "What you did is safe and goes out by itself."),
  "too-large": say("This is too long to be shared."),
  "too-much": say("This is more than the server takes.", "Try again tomorrow, or ask who runs it."),
  "book-limit": say("This server takes no more clubs today.", "What you made is safe on this device and goes out later."),
  "too-many-books": say("This server takes no more clubs today.", "What you made is safe on this device and goes out later."),
  "storage-full": say("The server has no room left.", "What you did is safe on this device and goes out later."),
  "update-the-app": say("This needs a newer version of the app.", "Load the app again to update it."),
  "app-too-old": say("This needs a newer version of the app.", "Load the app again to update it."),
  "server-too-old": say("The server is older than this app.", "What you do is safe on this device. Ask who runs it to update it."),
  "time-ahead": say("This device's clock was far ahead.", "It gets the right time by itself and goes out again."),

  // a guess
  "over-whole": say("These add up to more than 100 %.", "Lower one of them."),
  "over-parent": say("The parts add up to more than the whole they are in.", "Lower one of them, or raise the whole."),
  "contradicts-zero": say("This is within something that you gave 0 %.", "Raise that one first."),
};
