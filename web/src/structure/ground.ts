// The ground, seen through: footings in it, ties under it.

import { CircleGeometry, DoubleSide, Mesh, MeshBasicMaterial, type Box3 } from "three";
import type { Point } from "../api";
import { figure, kilonewtons, millimetres } from "../figures";
import { numberOf, pointOf, tablesOf, textOf } from "../heads";
import type { Json, Sheaf } from "../sheaf";
import type { Palette } from "./palette";
import { dashedSegments, emptyPiece, flatMesh, lineSegments, pushBar, type Piece } from "./pieces";

export function groundPlane(box: Box3, level_m: number, palette: Palette): Piece {
  const piece = emptyPiece();
  const size = Math.hypot(box.max.x - box.min.x, box.max.y - box.min.y);
  const disc = new Mesh(
    new CircleGeometry(size * 0.66, 64),
    new MeshBasicMaterial({ color: palette.of("earth"), transparent: true, opacity: 0.28, side: DoubleSide, depthWrite: false }),
  );
  disc.position.set((box.min.x + box.max.x) / 2, (box.min.y + box.max.y) / 2, level_m);
  disc.renderOrder = -1;
  piece.group.add(disc);
  return piece;
}

// Corners 0 to 3 are one face, 4 to 7 the one opposite, in the same order.
const kFaces = [[0, 1, 2, 3], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]] as const;

/** `told`: with figures and a line in the legend; else it is there to be seen only.
 *  `older`: it is of a revision that is no longer the brief's. */
export function groundPiece(ground: Sheaf, size_m: number, told: boolean, older: { of: number; revision: number } | null, palette: Palette): Piece {
  const piece = emptyPiece();
  const fill: number[] = [];
  const rims: number[] = [];
  for (const footing of tablesOf(ground.head["footings"])) {
    const corners = (footing["corners"] as Json[] | undefined)?.map((each) => pointOf(each)) ?? [];
    if (corners.length !== 8) continue;
    for (const face of kFaces) {
      const [a, b, c, d] = face.map((i) => corners[i] as Point) as [Point, Point, Point, Point];
      fill.push(...a, ...b, ...c, ...a, ...c, ...d);
      rims.push(...a, ...b, ...b, ...c, ...c, ...d, ...d, ...a);
    }
    const share = numberOf(footing["share"], NaN);
    const at = middle(corners);
    const words = Number.isFinite(share) ? `, uses ${figure(share * 100)} % of what it may` : "";
    if (told || share > 1) piece.labels.push({ at, text: `footing ${textOf(footing["support"])}${words}`, look: share > 1 ? "falls" : share >= 0.8 ? "near" : "quiet", weight: 1 });
  }
  const rim = older === null ? lineSegments(rims, palette.of("quiet")) : dashedSegments(rims, palette.of("quiet"), size_m * 0.012);
  piece.group.add(flatMesh(fill, palette.of("quiet"), older === null ? 0.25 : 0.08), rim);
  const ties = tablesOf(ground.head["ties"]);
  const most = Math.max(0, ...ties.map((tie) => numberOf(tie["force_n"])));
  const bars: number[] = [];
  for (const tie of ties) {
    const [a, b] = [pointOf(tie["from"]), pointOf(tie["to"])];
    const force = numberOf(tie["force_n"]);
    const r = size_m * 0.0012 + (most > 0 ? (size_m * 0.003 * force) / most : 0);
    pushBar(bars, a, b, r, r);
    if (told) piece.labels.push({ at: middle([a, b]), text: `${textOf(tie["id"])}: ${rodWords(tie)}, together ${kilonewtons(force)}`, look: "force", weight: 2 });
  }
  const mesh = flatMesh(bars, palette.of("force"), older === null ? 1 : 0.4);
  mesh.renderOrder = 4;
  piece.group.add(mesh);
  if (told && ties.length > 0) piece.legend.push({ sign: "line", colour: "--force", text: `ties below ground, as thick as their pull: at most ${kilonewtons(most)}` });
  if (older !== null) {
    for (const label of piece.labels) label.text += ` (revision ${older.of})`;
    piece.legend.push({ sign: "dash", colour: "--quiet", text: `footings and ties are older: of revision ${older.of}, the brief is at ${older.revision}` });
  }
  return piece;
}
/** "2 rods M16, 1.20 m apart" */
function rodWords(tie: { readonly [key: string]: unknown }): string {
  const rods = numberOf(tie["rods"] as number, 1);
  const size = textOf(tie["thread"] as string) || millimetres(numberOf(tie["diameter_m"] as number));
  return `${rods} rod${rods === 1 ? "" : "s"} ${size}${rods > 1 ? `, ${numberOf(tie["spacing_m"] as number).toFixed(2)} m between the outer ones` : ""}`;
}
function middle(points: readonly Point[]): Point {
  const sum = [0, 0, 0];
  for (const p of points) p.forEach((value, k) => (sum[k] = (sum[k] as number) + value / points.length));
  return sum as unknown as Point;
}
