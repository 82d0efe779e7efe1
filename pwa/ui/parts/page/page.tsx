// One screen: its title, what stands beside it, its content, and the one action at the thumb.

import { useEffect, useRef } from "preact/hooks";
import type { ComponentChildren } from "preact";
import type { BookStatus } from "../../gen/types.ts";
import { back } from "../../model/router.ts";
import * as words from "../../words.ts";
import { BackIcon } from "../icons/icons.tsx";
import { PageSync } from "./pagesync.tsx";
import "./page.css";

interface Props {
  title: ComponentChildren;
  /** Also the browser's title, when the title is not plain text. */
  name?: string;
  aside?: ComponentChildren;
  /** The address above this screen; without it the screen is a place and has no way back. */
  above?: string;
  /** How the person stands in the club that the screen belongs to: out of it, the sync mark claims nothing. */
  standing?: BookStatus;
  /** The one thing to do next; stays at the lower edge. */
  action?: ComponentChildren;
  children: ComponentChildren;
}

export function Page({ title, name, aside, above, standing, action, children }: Props) {
  const heading = useRef<HTMLHeadingElement>(null);
  const shown = name ?? (typeof title === "string" ? title : "");
  useEffect(() => {
    document.title = shown ? `${shown} · Hushcup` : "Hushcup";
  }, [shown]);
  useEffect(() => {
    // a screen reader hears where it has come to; a field that took the focus itself keeps it
    if (document.activeElement === document.body || document.activeElement === null) heading.current?.focus({ preventScroll: true });
  }, []);
  return (
    <main class="page">
      <header class="page-head">
        {above !== undefined && (
          <button type="button" class="page-back" aria-label={words.common.back} onClick={() => back(above)}>
            <BackIcon />
          </button>
        )}
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
        <PageSync short={above !== undefined} standing={standing} />
        {aside !== undefined && <div class="page-aside">{aside}</div>}
      </header>
      <div class="page-body stack">{children}</div>
      {action !== undefined && <div class="page-action">{action}</div>}
    </main>
  );
}
