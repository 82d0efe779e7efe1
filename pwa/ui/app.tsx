// The frame around every screen: running brews above, the places below (beside, on a laptop), a list pane on wide screens,
// and what is said when there is no screen.

import { useEffect, useState } from "preact/hooks";
import "./app.css";
import { findRoute, place } from "./model/router.ts";
import { stopDetail, useView, workerState } from "./model/core.ts";
import { goingRows } from "./model/going.ts";
import { chooseUnits } from "./model/units.ts";
import { useSecond } from "./model/clock.ts";
import { PlaceBar } from "./parts/places/places.tsx";
import { CupCalls } from "./parts/strip/calls.tsx";
import { Strip } from "./parts/strip/strip.tsx";
import { routes } from "./routes.tsx";
import { Elsewhere, NotFound, Stopped } from "./screens/obstacle.tsx";
import * as words from "./words.ts";

export function App() {
  const state = workerState.value;
  if (state === "elsewhere") return <Elsewhere />;
  if (state === "stopped") return <Stopped detail={stopDetail.value} />;
  return <Frame />;
}

/** Screens that list what is running themselves. */
const LISTS_RUNNING = new Set(["/", "/bench"]);

function Frame() {
  const { path } = place.value;
  const wide = useWide();
  useUnits();
  const found = findRoute(routes, path);
  const Screen = found?.route.screen ?? NotFound;
  const Pane = wide ? found?.route.pane : undefined;
  const bare = found?.route.bare === true;
  return (
    <div class={`frame${Pane ? " panes" : ""}${bare ? " bare" : ""}`}>
      <a class="skip" href="#content" onClick={toContent}>
        {words.common.skipToContent}
      </a>
      <RunningStrip />
      {!bare && <PlaceBar />}
      {Pane && (
        <div class="pane">
          <Pane />
        </div>
      )}
      <div class="content" id="content" key={path}>
        <Screen params={found?.params ?? {}} />
      </div>
    </div>
  );
}

function toContent(event: Event): void {
  event.preventDefault();
  document.querySelector<HTMLElement>(".content h1")?.focus();
}

function RunningStrip() {
  const { path } = place.value;
  const going = useView(path === "/" ? "tonight" : "bench").value?.going ?? []; // of what the screen watches anyway
  const now = useSecond(going.length > 0);
  const listed = LISTS_RUNNING.has(path);
  return (
    <div class="going">
      {!listed && <Strip brews={goingRows(going, now).filter((row) => row.href !== path && row.about !== path)} />}
      <CupCalls going={going} />
    </div>
  );
}

/** The units of every screen are the person's. */
function useUnits(): void {
  const notebook = useView("notebook").value;
  useEffect(() => chooseUnits(notebook), [notebook?.weight, notebook?.temperature]);
}

/** From 900 px there is room for two panes. */
function useWide(): boolean {
  const [query] = useState(() => matchMedia("(min-width: 900px)"));
  const [wide, setWide] = useState(query.matches);
  useEffect(() => {
    const look = () => setWide(query.matches);
    query.addEventListener("change", look);
    return () => query.removeEventListener("change", look);
  }, []);
  return wide;
}
