// What is said when there is no screen: the browser cannot, another tab has the books, or the core has stopped.

import { post } from "../model/core.ts";
import { Button } from "../parts/button/button.tsx";
import { Nothing } from "../parts/shown/shown.tsx";
import "../parts/page/page.css";
import * as words from "../words.ts";
import type { ComponentChildren } from "preact";

function Notice({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <main class="notice">
      <h1>{title}</h1>
      {children}
    </main>
  );
}

export function Obstacle({ why }: { why: "insecure" | "wasm" | "storage" }) {
  const shell = words.shell;
  switch (why) {
    case "insecure":
      return (
        <Notice title={shell.insecure}>
          <p>{shell.insecureText}</p>
          <p>{shell.insecureDo}</p>
        </Notice>
      );
    case "wasm":
      return (
        <Notice title={shell.noWasm}>
          <p>{shell.noWasmText}</p>
        </Notice>
      );
    case "storage":
      return (
        <Notice title={shell.noStorage}>
          <p>{shell.noStorageText}</p>
        </Notice>
      );
  }
}

export function Elsewhere() {
  return (
    <Notice title={words.shell.elsewhere}>
      <p>{words.shell.elsewhereText}</p>
      <Button kind="primary" onPress={() => post({ type: "take-over" })}>
        {words.shell.takeHere}
      </Button>
    </Notice>
  );
}

export function Stopped({ detail }: { detail: string }) {
  return (
    <Notice title={words.shell.stopped}>
      <p>{words.shell.stoppedText}</p>
      <p class="small soft">{detail}</p>
      <Button kind="primary" onPress={() => location.reload()}>
        {words.shell.reload}
      </Button>
    </Notice>
  );
}

export function NotFound() {
  return <Nothing text={words.common.notFoundText} />;
}
