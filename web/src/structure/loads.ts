// People and what else is to be carried: arrows as long as the force.

import type { Point } from "../api";
import { kilonewtons } from "../figures";
import type { CaseHead } from "../heads";
import type { Palette } from "./palette";
import { emptyPiece, flatMesh, pushArrow, type Piece } from "./pieces";

export function livePiece(load: CaseHead, size_m: number, palette: Palette): Piece {
  const piece = emptyPiece();
  const size = (force: Point): number => Math.hypot(...force);
  const most = Math.max(0, ...load.live.map((each) => size(each.force)));
  if (most === 0) return piece;
  const longest = size_m * 0.07;
  const out: number[] = [];
  for (const { at, force } of load.live) {
    const scale = longest / most;
    if (size(force) * scale < size_m * 0.002) continue;
    const tail: Point = [at[0] - force[0] * scale, at[1] - force[1] * scale, at[2] - force[2] * scale];
    pushArrow(out, tail, at, size_m * 0.0016);
  }
  piece.group.add(flatMesh(out, palette.of("people")));
  piece.legend.push({ sign: "arrow", colour: "--people", text: `load of the case, the longest ${kilonewtons(most)}` });
  return piece;
}
