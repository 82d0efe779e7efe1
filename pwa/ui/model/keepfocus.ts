// What had the focus is taken away by its own press, or by time (a step that can no more be taken back): the focus goes to what
// stands next on the same screen, and never falls to the top of the page. Only for whom the focus is seen: nothing here opens
// the keyboard of a phone.

const FOCUSABLE = "a[href], button, input, select, textarea, summary, [tabindex]";

let had: Element | undefined;
let screen: Element | null = null;
let order: HTMLElement[] = [];

const gone = (element: Element) => !element.isConnected || element.matches(":disabled");

function remember(): void {
  const now = document.activeElement;
  if (!now || now === document.body) return;
  had = now.matches(":focus-visible") ? now : undefined;
  screen = now.closest("main");
  order = had && screen ? [...screen.querySelectorAll<HTMLElement>(FOCUSABLE)] : [];
}

/** The next one that is still there, else the one before. */
function next(): HTMLElement | undefined {
  const at = order.findIndex((element) => element === had);
  const there = (element: HTMLElement) => !gone(element) && element.getClientRects().length > 0;
  return order.slice(at + 1).find(there) ?? order.slice(0, at).findLast(there);
}

export function keepFocus(): void {
  addEventListener("focusin", remember);
  addEventListener("keydown", remember, true);
  new MutationObserver(() => {
    if (!had || !gone(had) || document.activeElement !== document.body || !screen?.isConnected) return;
    const to = next();
    had = undefined;
    to?.focus();
  }).observe(document.body, { childList: true, subtree: true, attributeFilter: ["disabled"] });
}
