// Picks from a tree of the atlas: search by any name, or open the list. What is chosen stands above, with its way down the
// tree, and can be taken away. One, or several where a lot may be several.

import { useId, useMemo, useState } from "preact/hooks";
import type { AtlasNode } from "../../gen/types.ts";
import * as words from "../../words.ts";
import { Button } from "../button/button.tsx";
import "./nodepicker.css";

interface Props {
  label: string;
  hint?: string;
  nodes: readonly AtlasNode[];
  chosen: readonly string[];
  several?: boolean;
  onChosen(chosen: string[]): void;
  error?: string | undefined;
}

const SHOWN = 8;

export function NodePicker({ label, hint, nodes, chosen, several, onChosen, error }: Props) {
  const id = useId();
  const [search, setSearch] = useState("");
  const [all, setAll] = useState(false);
  const byNode = useMemo(() => new Map(nodes.map((node) => [node.node, node])), [nodes]);
  const few = nodes.length <= SHOWN;
  const flat = few && nodes.every((node) => node.depth === 0);
  const found = findNodes(nodes, search);
  const shown = few || all ? found : search ? found.slice(0, SHOWN) : [];
  const toggle = (node: string) => {
    const has = chosen.includes(node);
    onChosen(has ? chosen.filter((each) => each !== node) : several ? [...chosen, node] : [node]);
    if (!has && !several) {
      setSearch("");
      setAll(false);
    }
  };
  return (
    <div class={`field nodepicker${error ? " wrong" : ""}`} role="group" aria-labelledby={`${id}-label`}>
      <h3 id={`${id}-label`}>{label}</h3>
      {hint && <p class="field-hint">{hint}</p>}
      {chosen.length > 0 && !few && (
        <ul class="nodepicker-chosen" aria-label={words.flights.chosen}>
          {chosen.map((node) => (
            <li key={node}>
              <span>{wayDown(byNode, node)}</span>
              <Button kind="quiet" onPress={() => toggle(node)}>
                {words.common.remove}
                <span class="unseen"> {byNode.get(node)?.name}</span>
              </Button>
            </li>
          ))}
        </ul>
      )}
      {!few && (chosen.length === 0 || several) && (
        <div class="field-box">
          <input
            type="search"
            autocomplete="off"
            aria-label={`${words.flights.search}: ${label}`}
            placeholder={words.flights.search}
            value={search}
            onInput={(event) => setSearch(event.currentTarget.value)}
            onKeyDown={(event) => {
              if (event.key === "Enter") event.preventDefault(); // a search does not send the form
            }}
          />
        </div>
      )}
      {shown.length > 0 && (few || chosen.length === 0 || several) && (
        <div class={flat ? "pick-row" : "nodepicker-list"}>
          {shown.map((node) => (
            <button
              key={node.node}
              type="button"
              class={flat ? "nodepicker-chip" : `nodepicker-one depth-${search ? 0 : Math.min(node.depth, 3)}`}
              aria-pressed={chosen.includes(node.node)}
              onClick={() => toggle(node.node)}
            >
              <span>{node.name}</span>
              {search && node.parent && <span class="small nodepicker-in">{wayDown(byNode, node.parent)}</span>}
            </button>
          ))}
        </div>
      )}
      {search && found.length === 0 && <p class="field-hint">{words.flights.noMatch}</p>}
      {!few && !all && !search && (chosen.length === 0 || several) && (
        <Button kind="quiet" onPress={() => setAll(true)}>
          {words.flights.showAll}
          <span class="unseen">: {label}</span>
        </Button>
      )}
      <p class="field-note" role="status">
        {error ?? ""}
      </p>
    </div>
  );
}

/** Nodes one of whose names begins with, or holds, what was typed; beginnings first. */
export function findNodes(nodes: readonly AtlasNode[], search: string): AtlasNode[] {
  const want = fold(search);
  if (want === "") return [...nodes];
  const rank = (node: AtlasNode) => Math.min(...[node.name, ...node.also].map((name) => rankOf(fold(name), want)));
  return nodes
    .map((node) => ({ node, rank: rank(node) }))
    .filter(({ rank: each }) => each < Infinity)
    .sort((a, b) => a.rank - b.rank)
    .map(({ node }) => node);
}

function rankOf(name: string, want: string): number {
  const at = name.indexOf(want);
  if (at < 0) return Infinity;
  if (at === 0) return name.length === want.length ? 0 : 1;
  return name[at - 1] === " " ? 2 : 3;
}

/** Without case and accents. */
function fold(text: string): string {
  return text.trim().toLowerCase().normalize("NFD").replace(/\p{M}/gu, "");
}

/** Africa, Ethiopia, Guji. */
function wayDown(byNode: Map<string, AtlasNode>, node: string): string {
  const names: string[] = [];
  for (let each = byNode.get(node); each; each = byNode.get(each.parent)) names.unshift(each.name);
  return names.join(", ");
}
