// The page starts here: paint what is known, listen to the worker, then everything that can wait.

import { render } from "preact";
import "./tokens.css";
import "./base.css";
import "./print.css";
import { App } from "./app.tsx";
import { Obstacle } from "./screens/obstacle.tsx";
import { askAhead } from "./model/ahead.ts";
import { listenForInstall, reportStorage } from "./model/browser.ts";
import { hearWorker, remember } from "./model/core.ts";
import { watchForeground } from "./model/foreground.ts";
import { keepFocus } from "./model/keepfocus.ts";
import { startOffline } from "./model/offline.ts";
import { startRouter } from "./model/router.ts";
import { routes } from "./routes.tsx";

const LONGEST_MS = 100;

async function start(root: HTMLElement): Promise<void> {
  const { started } = (await import(EARLY_URL)) as typeof import("./early.ts");
  if (started.why) return render(<Obstacle why={started.why} />, root);
  startRouter();
  askAhead(routes);
  listenForInstall();
  watchForeground();
  keepFocus();
  // a browser begins a worker with the page's help: painting first would hold the core up
  await Promise.race([started.early.begun, new Promise((late) => setTimeout(late, LONGEST_MS))]);
  hearWorker(started.early);
  for (const [view, value] of started.early.lastViews) remember(view, value);
  root.textContent = "";
  render(<App />, root);
  performance.mark("painted");
  void reportStorage();
  addEventListener("load", () => void startOffline());
  if (document.readyState === "complete") void startOffline();
}

void start(document.getElementById("app") as HTMLElement);
