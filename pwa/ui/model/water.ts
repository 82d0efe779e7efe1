// What the screens of water share: numbers in the person's unit, and answers of the core that follow what is being typed.

import { useEffect, useRef, useState } from "preact/hooks";
import type { HardnessUnit, SaltFacts, UnitFacts, WaterQuantity, WaterTarget } from "../gen/types.ts";
import { formatNumber } from "./numbers.ts";
import * as words from "../words.ts";

/**
 * mg/L as CaCO3 in one of the unit; the core's own figure. A mmol of hardness is of calcium and magnesium, with two charges each; one
 * of alkalinity is of acid or bicarbonate (DIN 38409-7), with one.
 */
export function factorOf(units: readonly UnitFacts[], unit: HardnessUnit, of: WaterQuantity): number {
  const factor = units.find((each) => each.unit === unit)?.factor ?? 1;
  return unit === "mmol/L" && of === "alkalinity" ? factor / 2 : factor;
}

/** A hardness or alkalinity in the person's unit, with it. */
export function formatHardness(mgPerLitre: number, units: readonly UnitFacts[], unit: HardnessUnit, of: WaterQuantity): string {
  const value = mgPerLitre / factorOf(units, unit, of);
  return `${formatNumber(value, unit === "mg/L" ? 0 : 1)} ${unit}`;
}

/** "112 mg/L and 55 mg/L", and the magnesium where it matters. */
export function formatTarget(target: WaterTarget, units: readonly UnitFacts[], unit: HardnessUnit): string {
  const two = `${words.water.hardness} ${formatHardness(target.hardness, units, unit, "hardness")}, ${words.water.alkalinity.toLowerCase()} ${formatHardness(target.alkalinity, units, unit, "alkalinity")}`;
  return target.magnesium < 0 ? two : `${two}, ${words.water.magnesiumPart(formatNumber(target.magnesium * 100, 0))}`;
}

/** "magnesium sulphate, MgSO₄ · 7 H₂O" */
export const saltName = ({ salt, formula }: SaltFacts): string => `${words.water.saltNames[salt]}, ${formatFormula(formula)}`;

/** Digits that count atoms stand low. */
const formatFormula = (formula: string): string => formula.replace(/([A-Za-z])(\d)/g, (_, atom: string, count: string) => atom + "₀₁₂₃₄₅₆₇₈₉"[Number(count)]!);

/** What a question to the core last answered, asked anew whenever it changes; undefined while it cannot be asked. */
export function useAnswer<A, R>(question: A | undefined, ask: (question: A) => Promise<R>): R | undefined {
  const [answer, setAnswer] = useState<R>();
  const turn = useRef(0);
  const key = question === undefined ? undefined : JSON.stringify(question);
  useEffect(() => {
    const mine = ++turn.current;
    if (question === undefined) {
      setAnswer(undefined);
      return;
    }
    ask(question).then(
      (result) => {
        if (mine === turn.current) setAnswer(result);
      },
      () => {
        if (mine === turn.current) setAnswer(undefined); // what is refused says so when it is saved
      },
    );
  }, [key]);
  return answer;
}
