// A finger rests on a link for a while before it lifts. What the screen behind it will want is asked for meanwhile.

import { findRoute, linkOf } from "./router.ts";

export function askAhead(routes: readonly { pattern: string; ahead?: (query: string) => void }[]): void {
  document.addEventListener("pointerdown", (event) => {
    const link = linkOf(event);
    if (link) findRoute(routes, link.pathname)?.route.ahead?.(link.search.slice(1));
  });
}
