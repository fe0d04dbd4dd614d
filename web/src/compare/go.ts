// To the place of a change: what it is about is chosen, the moment that shows it is gone to.

import { isTable, type Json } from "../sheaf";
import type { Point } from "../api";
import type { Desk } from "../slips";
import type { Change } from "./changes";

function headsOf(desk: Desk, name: "blocks" | "joints"): Json[] {
  const list = desk.views.want("blocks").sheaf?.head[name];
  return Array.isArray(list) ? list : [];
}
function atOf(head: Json | undefined): Point | null {
  const at = isTable(head) ? head["at"] : undefined;
  if (!Array.isArray(at)) return null;
  const [x, y, z] = at;
  return typeof x === "number" && typeof y === "number" && typeof z === "number" ? [x, y, z] : null;
}
const placeOf = (heads: readonly Json[], id: string): number => heads.findIndex((head) => isTable(head) && head["id"] === id);

export function goTo(desk: Desk, { place, moment }: Change): void {
  const { store, structure } = desk;
  store.set({
    chosen: { block: place.kind === "block" ? place.id : null, joint: place.kind === "joint" ? place.id : null },
    ...(moment === "" ? {} : { moment }),
    ...(place.kind === "case" ? { caseId: place.id } : {}),
    ...(place.kind === "stage" ? { moment: `stage ${place.id}` } : {}),
    ...(place.kind === "key" ? { slip: "change" } : {}),
  });
  const heads = place.kind === "block" || place.kind === "joint" ? headsOf(desk, place.kind === "block" ? "blocks" : "joints") : [];
  const index = placeOf(heads, place.id);
  structure.highlight(index < 0 ? {} : place.kind === "block" ? { blocks: [index] } : { joints: [index] });
  const at = place.at ?? atOf(heads[index]);
  if (at !== null) structure.flyTo(at);
}
