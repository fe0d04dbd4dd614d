// The force polygon of a node, standing in the structure at that node.

import type { Point } from "../api";
import { kilonewtons } from "../figures";
import { numberOf, pointOf, tablesOf, textOf } from "../heads";
import { isTable, type Json } from "../sheaf";
import type { Palette } from "./palette";
import { emptyPiece, flatMesh, pushArrow, pushBar, type Piece } from "./pieces";

/** `told`: the answer of /api/node. Drawn so that it is a fifth of the structure across. */
export function polygonPiece(told: unknown, size_m: number, palette: Palette): Piece {
  const piece = emptyPiece();
  if (!isTable(told)) return piece;
  const at = pointOf(told["at"]);
  const corners = (Array.isArray(told["corners"]) ? told["corners"] : []).map((each: Json) => pointOf(each));
  const forces = tablesOf(told["forces"]);
  const most = Math.max(0, ...corners.map((c) => Math.hypot(...c)));
  if (most === 0) return piece;
  const scale = (0.2 * size_m) / most;
  const place = (c: Point): Point => [at[0] + c[0] * scale, at[1] + c[1] * scale, at[2] + c[2] * scale];
  const edges: number[] = [];
  const others: number[] = [];
  forces.forEach((force, i) => {
    const [a, b] = [corners[i], corners[i + 1]];
    if (a === undefined || b === undefined) return;
    const [pa, pb] = [place(a), place(b)];
    const load = textOf(force["kind"]) !== "edge";
    pushArrow(load ? others : edges, pa, pb, size_m * 0.0018);
    const middle = pa.map((value, k) => (value + (pb[k] as number)) / 2) as unknown as Point;
    const name = textOf(force["kind"]);
    piece.labels.push({ at: middle, text: `${load ? name + " " : ""}${kilonewtons(Math.hypot(...pointOf(force["force"])))}`, look: load ? "quiet" : "force", weight: 6 - i * 0.1 });
  });
  piece.labels.push({ at, text: "node", look: "chosen", weight: 7 });
  const pin: number[] = [];
  pushBar(pin, [at[0], at[1], at[2] - size_m * 0.004], [at[0], at[1], at[2] + size_m * 0.004], size_m * 0.004, size_m * 0.004);
  for (const [numbers, name] of [[edges, "force"], [others, "ink"], [pin, "chosen"]] as const) {
    const mesh = flatMesh([...numbers], palette.of(name));
    mesh.renderOrder = 7;
    (mesh.material as { depthTest: boolean }).depthTest = false;
    piece.group.add(mesh);
  }
  piece.legend.push({ sign: "arrow", colour: "--force", text: `force polygon of node ${numberOf(told["vertex"])}: closes to ${(numberOf(told["closure_rel"])).toExponential(0)} of its greatest force` });
  return piece;
}
