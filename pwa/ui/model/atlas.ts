// The vocabulary, as the core has it: it changes only with the app, so it is looked up once and kept.

import type { AtlasFacet, AtlasView, Facet } from "../gen/types.ts";
import { useView } from "./core.ts";

const names = new WeakMap<AtlasView, Map<string, string>>();

export function useAtlas(): AtlasView | undefined {
  return useView("atlas").value;
}

export function nodeName(atlas: AtlasView | undefined, node: string): string {
  if (!atlas) return "";
  let known = names.get(atlas);
  if (!known) {
    known = new Map(atlas.facets.flatMap((facet) => facet.nodes.map((each) => [each.node, each.name])));
    names.set(atlas, known);
  }
  return known.get(node) ?? node;
}

export function facetOf(atlas: AtlasView, facet: Facet): AtlasFacet | undefined {
  return atlas.facets.find((each) => each.facet === facet);
}
