// A screen that waits for its view: nothing invented is shown meanwhile, and an address of nothing says so.

import type { ComponentChildren } from "preact";
import type { Seen } from "../../model/core.ts";
import * as words from "../../words.ts";
import { Button } from "../button/button.tsx";
import { Page } from "../page/page.tsx";

interface Props<V> {
  seen: Seen<V>;
  title: string;
  above?: string;
  children: (value: V) => ComponentChildren;
}

export function Shown<V>({ seen, title, above, children }: Props<V>) {
  if (seen.error) return <Nothing text={seen.error.code === "unknown" ? words.common.notFoundText : seen.error.text} />;
  if (seen.value === undefined) {
    return (
      <Page title={title} {...(above !== undefined && { above })}>
        <p class="soft" role="status">
          {words.common.loading}
        </p>
      </Page>
    );
  }
  return <>{children(seen.value)}</>;
}

export function Nothing({ text }: { text: string }) {
  return (
    <Page title={words.common.notFound} above="/">
      <p>{text}</p>
      <Button href="/">{words.common.toTonight}</Button>
    </Page>
  );
}
