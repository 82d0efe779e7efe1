// Tells the worker when the page comes back, or the network does.

import { post } from "./core.ts";

export function watchForeground(): void {
  let left = 0;
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") left = performance.now();
    else back();
  });
  addEventListener("pageshow", (event) => {
    if (event.persisted) post({ type: "foreground", away: Infinity });
  });
  addEventListener("online", () => post({ type: "foreground", away: Infinity }));

  function back(): void {
    post({ type: "foreground", away: left ? performance.now() - left : 0 });
    left = 0;
  }
}
