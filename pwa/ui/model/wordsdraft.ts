// Words that were picked and are not kept yet. They stay for this browser tab, so that a look elsewhere loses nothing.

import { useState } from "preact/hooks";
import { keepDraft, recallDraft } from "./tabdraft.ts";

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
      keepDraft(key, next.length > 0 ? next : undefined);
      setWords(next);
    },
  ];
}

/** Words with those of a text, which commas part, each once. */
export function withTyped(words: readonly string[], text: string): string[] {
  const typed = text.split(/[,;،、]/).map((word) => word.trim());
  return [...new Set([...words, ...typed])].filter((word) => word !== "");
}

const recall = (key: string) => recallDraft<string[]>(key) ?? [];
