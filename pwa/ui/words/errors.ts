// Words for refusals, by their stable code: what happened, and what to do. A code without words here shows the sentence that
// came with it.

export interface ErrorWords {
  text: string;
  hint: string;
}

const say = (text: string, hint = ""): ErrorWords => ({ text, hint });

export const errors: { [code: string]: ErrorWords | undefined } = {
  unknown: say("Something went wrong.", "What was saved is safe. Try once more; if it stays, load the app again."),
  "core-restarted": say("Something went wrong inside, and was started again.", "What was saved is safe. Look whether this was, and do it again if not."),
  "disk-full": say("This device has no room left, so nothing was saved.", "Make room and save again. What was saved before is safe."),
  "storage-failed": say("This device could not save.", "Try again. If it stays, close other tabs of Hushcup or restart the browser."),
};
