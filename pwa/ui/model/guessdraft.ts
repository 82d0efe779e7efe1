// What a person is saying and has not sealed yet. It is kept for this browser tab only, and thrown away when it is sealed;
// what follows from it is the core's preview.

import { useEffect, useRef, useState } from "preact/hooks";
import type { Facet, GuessView, SaidFacet } from "../gen/types.ts";
import { command, Refusal } from "./core.ts";
import { keepDraft, recallDraft } from "./tabdraft.ts";

export interface GuessDraft {
  facets: SaidFacet[];
  /** The view as it is kept, or as the core sees the draft. */
  shown: GuessView;
  changed: boolean;
  refusal: Refusal | undefined;
  say(facet: Facet, node: string, share: number | undefined): void;
  forget(): void;
}

export function useGuessDraft(view: GuessView, first: boolean): GuessDraft {
  const key = `guess ${view.club} ${view.sample}${first ? " first" : ""}`;
  const [draft, setDraft] = useState<SaidFacet[] | undefined>(() => recallDraft<SaidFacet[]>(key));
  const [preview, setPreview] = useState<GuessView>();
  const [refusal, setRefusal] = useState<Refusal>();
  const newest = useRef(0);

  useEffect(() => {
    if (!draft) return;
    const mine = ++newest.current;
    const { club, sample } = view;
    command("guess.preview", { club, sample, facets: draft }).then(
      (result) => {
        if (mine !== newest.current) return;
        setPreview(result);
        setRefusal(undefined);
      },
      (reason: unknown) => {
        if (mine === newest.current && reason instanceof Refusal) setRefusal(reason);
      },
    );
  }, [draft, view.club, view.sample]);

  const facets = draft ?? view.facets;
  return {
    facets,
    shown: draft && preview ? { ...view, questions: preview.questions } : view,
    changed: draft !== undefined,
    refusal: draft && refusal,
    say(facet, node, share) {
      const next = withSaid(facets, facet, node, share);
      keepDraft(key, next);
      setDraft(next);
    },
    forget() {
      keepDraft(key, undefined);
      setDraft(undefined);
      setPreview(undefined);
    },
  };
}

/** What was said, with one node's share put in, changed, or taken away. */
export function withSaid(facets: readonly SaidFacet[], facet: Facet, node: string, share: number | undefined): SaidFacet[] {
  const said = (facets.find((each) => each.facet === facet)?.said ?? []).filter((each) => each.node !== node);
  if (share !== undefined) said.push({ node, share });
  const others = facets.filter((each) => each.facet !== facet);
  return said.length === 0 ? others : [...others, { facet, said }];
}
