// The candidates of one question. A tap on a name opens what is under it, and how sure one is; everything else follows.

import { useState } from "preact/hooks";
import type { GuessNode, GuessQuestion } from "../gen/types.ts";
import { formatShare, type Range } from "../model/numbers.ts";
import { BeliefBars } from "../parts/belief/belief.tsx";
import { Button } from "../parts/button/button.tsx";
import { NumberField } from "../parts/field/field.tsx";
import { guess } from "../words.ts";

const percent: Range = { min: 0, max: 100, unit: "%" };
const STEPS = [5, 10, 25, 50, 75, 90];
const STEP = 5;

interface Props {
  question: GuessQuestion;
  may: boolean;
  /** A share in 1/10,000, or undefined to say nothing on it. */
  onSay(node: string, share: number | undefined): void;
}

export function GuessTree({ question, may, onSay }: Props) {
  const [active, setActive] = useState("");
  const shown = visible(likeliestFirst(question), active);
  return (
    <ul class="guess-tree">
      {shown.map((node) => (
        <li key={node.node}>
          <button type="button" class="guess-row" aria-expanded={active === node.node} onClick={() => setActive(active === node.node ? node.parent : node.node)}>
            <span class={`guess-name level-${Math.min(3, node.depth)}`}>
              {node.said >= 0 && <span class="guess-said" aria-label={guess.said} role="img" />}
              {node.name}
            </span>
            <span class="guess-bars">
              <BeliefBars before={node.before} now={node.think} />
            </span>
            <span class="guess-share">{formatShare(node.think)}</span>
          </button>
          {active === node.node && may && <HowSure node={node} onSay={(share) => onSay(node.node, share)} />}
        </li>
      ))}
    </ul>
  );
}

function HowSure({ node, onSay }: { node: GuessNode; onSay(share: number | undefined): void }) {
  const now = node.said >= 0 ? node.said : node.think;
  const step = (by: number) => onSay(Math.min(10_000, Math.max(0, Math.round(now / 100 / STEP) * STEP * 100 + by)));
  return (
    <div class="guess-sure" role="group" aria-label={guess.sure(node.name)}>
      <div class="guess-steps">
        {STEPS.map((each) => (
          <Button key={each} pressed={node.said === each * 100} onPress={() => onSay(each * 100)}>
            {each} %
          </Button>
        ))}
        <Button onPress={() => step(-STEP * 100)}>
          <span aria-hidden="true">−</span>
          <span class="unseen">{guess.less}</span>
        </Button>
        <Button onPress={() => step(STEP * 100)}>
          <span aria-hidden="true">+</span>
          <span class="unseen">{guess.more}</span>
        </Button>
      </div>
      <div class="guess-exact">
        <NumberField
          label={guess.percent}
          range={percent}
          value={node.said >= 0 ? node.said / 100 : undefined}
          onValue={(value) => {
            if (value === undefined || !Number.isNaN(value)) onSay(value === undefined ? undefined : Math.round(value * 100));
          }}
        />
        {node.said >= 0 && (
          <Button kind="quiet" onPress={() => onSay(undefined)}>
            {guess.takeBack}
          </Button>
        )}
      </div>
    </div>
  );
}

/**
 * Beside each other stand the likeliest before tasting first, so that a thumb finds them, and nothing moves while one guesses;
 * what has an order of its own keeps it.
 */
export function likeliestFirst({ nodes, ordered }: GuessQuestion): GuessNode[] {
  if (ordered) return nodes;
  const under = new Map<string, GuessNode[]>();
  for (const node of nodes) under.set(node.parent, [...(under.get(node.parent) ?? []), node]);
  const walk = (parent: string): GuessNode[] =>
    (under.get(parent) ?? []).toSorted((a, b) => b.before - a.before).flatMap((node) => [node, ...walk(node.node)]);
  return walk("");
}

/**
 * The nodes in sight: the top ones; what is under the open one and beside its ancestors; and wherever something was said, so
 * that nothing said is hidden.
 */
export function visible(nodes: readonly GuessNode[], active: string): GuessNode[] {
  const byNode = new Map(nodes.map((node) => [node.node, node]));
  const open = new Set<string>();
  const openUp = (from: string) => {
    for (let node = byNode.get(from); node; node = byNode.get(node.parent)) open.add(node.node);
  };
  openUp(active);
  for (const node of nodes) {
    if (node.said >= 0) openUp(node.parent);
  }
  return nodes.filter((node) => node.parent === "" || open.has(node.parent));
}
