// The page starts here: paint what is known, start the worker, then everything that can wait.

import { render } from "preact";
import "./tokens.css";
import "./base.css";
import "./print.css";
import { App } from "./app.tsx";
import { Obstacle } from "./screens/obstacle.tsx";
import { listenForInstall, reportStorage } from "./model/browser.ts";
import { remember, startWorker } from "./model/core.ts";
import { watchForeground } from "./model/foreground.ts";
import { keepFocus } from "./model/keepfocus.ts";
import { obstacle } from "./model/obstacle.ts";
import { openRooms } from "./model/rooms.tsx";
import { startOffline } from "./model/offline.ts";
import { startRouter } from "./model/router.ts";

async function start(root: HTMLElement): Promise<void> {
  const why = obstacle();
  if (why) return render(<Obstacle why={why} />, root);
  startWorker();
  startRouter();
  listenForInstall();
  watchForeground();
  keepFocus();
  await Promise.all([remember("tonight"), remember("bench")]);
  root.textContent = "";
  render(<App />, root);
  performance.mark("painted");
  void reportStorage();
  requestIdleCallback(() => void openRooms(), { timeout: 3000 });
  addEventListener("load", () => void startOffline());
  if (document.readyState === "complete") void startOffline();
}

void start(document.getElementById("app") as HTMLElement);
