// A list of thousands that scrolls like a short one: only the rows near the screen are in the document. It is cut into
// lengths; those far away are empty room as high as they were, or as they will be.

import type { ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { reached } from "./reach.ts";
import "./longlist.css";

/** Rows in a length. */
export const LENGTH = 10;

/** Screens above and below that are made beforehand. */
const AHEAD = 1.5;

/** How high a row is, until one has been seen; then as the last one was. */
let usualRow = 72;

interface Props {
  count: number;
  /** The row to begin at. */
  row: number;
  /** Says which row is at the top, when scrolling has paused and before anything is touched. */
  onRow(row: number): void;
  /** The rows of a length, as `li` in a `ul`; height is the room that they will take. */
  children(from: number, height: number): ComponentChildren;
}

export function LongList({ count, row, onRow, children }: Props) {
  const list = useRef<HTMLDivElement>(null);
  const heights = useRef(new Map<number, number>());
  const lengths = Math.ceil(count / LENGTH);
  const high = (length: number) => heights.current.get(length) ?? Math.min(LENGTH, count - length * LENGTH) * usualRow;
  const [near, setNear] = useState<[number, number]>(() => [Math.max(0, Math.floor(row / LENGTH) - 1), Math.floor(row / LENGTH) + 1]);

  const look = () => {
    const box = list.current;
    if (!box) return;
    measure(box, heights.current);
    const top = -box.getBoundingClientRect().top;
    const next = reached(lengths, high, top - AHEAD * innerHeight, top + (1 + AHEAD) * innerHeight);
    setNear((now) => (now[0] === next[0] && now[1] === next[1] ? now : next));
  };
  const goBack = useReturn(list, row, (length) => sum(0, length, high));
  useScroll(look, () => onRow(topRow(list.current)));
  useGrowth(list, () => {
    goBack();
    look();
  });
  useLayoutEffect(goBack, []);
  useEffect(look, [count]);

  const [first, last] = [Math.min(near[0], Math.max(0, lengths - 1)), Math.min(near[1], lengths - 1)];
  const shown = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  return (
    <div class="longlist" ref={list} onClickCapture={() => onRow(topRow(list.current))}>
      <div style={{ height: `${sum(0, first, high)}px` }} />
      {shown.map((length) => children(length * LENGTH, high(length)))}
      <div style={{ height: `${sum(last + 1, lengths, high)}px` }} />
    </div>
  );
}

function sum(from: number, until: number, high: (length: number) => number): number {
  let all = 0;
  for (let length = from; length < until; length++) all += high(length);
  return all;
}

/** How high the lengths in the document are; what is still empty says nothing. */
function measure(box: HTMLElement, heights: Map<number, number>): void {
  for (const part of box.querySelectorAll<HTMLElement>("ul[data-from]")) {
    const rows = part.childElementCount;
    if (rows === 0) continue;
    heights.set(Number(part.dataset.from) / LENGTH, part.offsetHeight);
    if (rows === LENGTH) usualRow = part.offsetHeight / rows;
  }
}

/** The first row whose lower edge is on the screen. */
function topRow(box: HTMLElement | null): number {
  if (!box || box.getBoundingClientRect().top > -8) return 0;
  for (const part of box.querySelectorAll<HTMLElement>("ul[data-from]")) {
    if (part.getBoundingClientRect().bottom <= 0) continue;
    const within = [...part.children].findIndex((each) => each.getBoundingClientRect().bottom > 8);
    if (within >= 0) return Number(part.dataset.from) + within;
  }
  return 0;
}

const PAUSE_MS = 150;

/** Once a frame while it scrolls, and once when it has paused. */
function useScroll(onScroll: () => void, onPause: () => void): void {
  const latest = useRef({ onScroll, onPause });
  latest.current = { onScroll, onPause };
  useEffect(() => {
    let frame = 0;
    let pause: ReturnType<typeof setTimeout> | undefined;
    const scrolled = () => {
      frame ||= requestAnimationFrame(() => {
        frame = 0;
        latest.current.onScroll();
      });
      clearTimeout(pause);
      pause = setTimeout(() => latest.current.onPause(), PAUSE_MS);
    };
    addEventListener("scroll", scrolled, { passive: true });
    addEventListener("resize", scrolled);
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(pause);
      removeEventListener("scroll", scrolled);
      removeEventListener("resize", scrolled);
    };
  }, []);
}

/** Calls whenever rows have come, or have another height: letters may be of twice the size. */
function useGrowth(list: { current: HTMLDivElement | null }, onGrowth: () => void): void {
  const latest = useRef(onGrowth);
  latest.current = onGrowth;
  useEffect(() => {
    const watching = new ResizeObserver(() => latest.current());
    if (list.current) watching.observe(list.current);
    return () => watching.disconnect();
  }, []);
}

/** Goes to where one was: at once as far as can be guessed, and exactly when the row is there. A finger ends it. */
function useReturn(list: { current: HTMLDivElement | null }, row: number, above: (length: number) => number): () => void {
  const waiting = useRef(row > 0);
  useEffect(() => {
    const stop = () => (waiting.current = false);
    addEventListener("touchmove", stop, { passive: true });
    addEventListener("wheel", stop, { passive: true });
    return () => {
      removeEventListener("touchmove", stop);
      removeEventListener("wheel", stop);
    };
  }, []);
  return () => {
    const box = list.current;
    if (!waiting.current || !box) return;
    const part = box.querySelector<HTMLElement>(`ul[data-from="${row - (row % LENGTH)}"]`);
    const there = part?.children[row % LENGTH];
    if (there) waiting.current = false;
    const top = there?.getBoundingClientRect().top ?? box.getBoundingClientRect().top + above(Math.floor(row / LENGTH)) + (row % LENGTH) * usualRow;
    scrollTo({ top: scrollY + top, behavior: "instant" });
  };
}
