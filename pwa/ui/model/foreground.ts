// Tells the worker when the page comes back, or the network does; and writes what is remembered before it may be gone.

import { post } from "./core.ts";
import { writeLastViews } from "./lastviews.ts";

export function watchForeground(): void {
  let left = 0;
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "hidden") return back();
    left = performance.now();
    writeLastViews(); // a page that is put away may not come back
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
