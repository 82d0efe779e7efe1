// Words that were picked and are not kept yet. They stay for this browser tab, so that a look elsewhere loses nothing.

import { useState } from "preact/hooks";

export function useWordsDraft(key: string): [words: string[], set: (words: string[]) => void] {
  const [words, setWords] = useState(() => recall(key));
  const [of, setOf] = useState(key);
  if (of !== key) {
    setOf(key);
    setWords(recall(key));
  }
  return [
    of === key ? words : recall(key),
    (next) => {
      keep(key, next);
      setWords(next);
    },
  ];
}

/** Words with those of a text, which commas part, each once. */
export function withTyped(words: readonly string[], text: string): string[] {
  const typed = text.split(/[,;،、]/).map((word) => word.trim());
  return [...new Set([...words, ...typed])].filter((word) => word !== "");
}

function recall(key: string): string[] {
  try {
    return JSON.parse(sessionStorage.getItem(key) ?? "[]") as string[];
  } catch {
    return [];
  }
}

function keep(key: string, words: string[]): void {
  try {
    if (words.length > 0) sessionStorage.setItem(key, JSON.stringify(words));
    else sessionStorage.removeItem(key);
  } catch {
    // no room: only a reload before they are kept would miss them
  }
}
