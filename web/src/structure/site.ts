// What is on site: centring with its seats, and what the survey found.

import { LineBasicMaterial, LineSegments, BufferAttribute, BufferGeometry, Mesh, MeshLambertMaterial, DoubleSide } from "three";
import type { Point } from "../api";
import { millimetres } from "../figures";
import { pointOf, tablesOf, textOf, numberOf, blocksOf, type StageHead } from "../heads";
import type { Sheaf } from "../sheaf";
import { shiftOf } from "./blocks";
import type { Palette } from "./palette";
import { emptyPiece, flatMesh, pushArrow, pushBar, type Piece } from "./pieces";

/** `stage` null: every seat is in. */
export function centringPiece(centring: Sheaf, stage: StageHead | null, palette: Palette): Piece {
  const piece = emptyPiece();
  const seats = tablesOf(centring.head["seats"]).map((seat) => pointOf(seat["at"]));
  const isIn = new Set(stage === null ? seats.keys() : stage.seats);
  const away = stage !== null && stage.seats.length === 0;
  if (!away) {
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(centring.f32("points"), 3));
    geometry.setIndex(new BufferAttribute(centring.u32("triangles"), 1));
    geometry.computeVertexNormals();
    const timber = new MeshLambertMaterial({ color: palette.of("timber"), side: DoubleSide, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
    const lines = new BufferGeometry();
    lines.setAttribute("position", new BufferAttribute(centring.f32("lines"), 3));
    piece.group.add(new Mesh(geometry, timber), new LineSegments(lines, new LineBasicMaterial({ color: palette.of("stone-edge"), transparent: true, opacity: 0.5 })));
  }
  const size = seatSize(seats);
  const inside: number[] = [];
  const outside: number[] = [];
  seats.forEach((at, i) => pushBar(isIn.has(i) ? inside : outside, [at[0], at[1], at[2] - size], [at[0], at[1], at[2]], isIn.has(i) ? size * 0.5 : size * 0.16, isIn.has(i) ? size * 0.5 : size * 0.16, 6));
  piece.group.add(flatMesh(inside, palette.of("ink")), flatMesh(outside, palette.of("quiet")));
  piece.legend.push({ sign: "patch", colour: "--ink", text: `${isIn.size} of ${seats.length} seats are in (thick); the thin ones are out` });
  return piece;
}
function seatSize(seats: readonly Point[]): number {
  if (seats.length === 0) return 0.05;
  const spans = [0, 1].map((k) => Math.max(...seats.map((p) => p[k] as number)) - Math.min(...seats.map((p) => p[k] as number)));
  return Math.min(0.08, Math.max(0.02, 0.006 * Math.hypot(...spans)));
}

/** `factor`: how much larger the moves are drawn. */
export function surveyPiece(survey: Sheaf, blocks: Sheaf, factor: number, size_m: number, palette: Palette): Piece {
  const piece = emptyPiece();
  const arrows: number[] = [];
  const marks: number[] = [];
  const r = size_m * 0.0024;
  const move = survey.f32("move");
  blocksOf(blocks).forEach((block, b) => {
    const shift = shiftOf(move, b, block.at);
    const off = shift.length();
    if (!(off > 5e-5)) return;
    const to: Point = [block.at[0] + shift.x * factor, block.at[1] + shift.y * factor, block.at[2] + shift.z * factor];
    pushArrow(arrows, block.at, to, r);
    piece.labels.push({ at: to, text: `${block.id} ${millimetres(off)}`, look: "quiet", weight: off });
  });
  for (const mark of tablesOf(survey.head["marks"])) {
    const [drawn, found] = [pointOf(mark["drawn"]), pointOf(mark["found"])];
    const to = drawn.map((d, k) => d + ((found[k] as number) - d) * factor) as unknown as Point;
    pushArrow(marks, drawn, to, r * 0.8);
    piece.labels.push({ at: to, text: `${textOf(mark["id"])} ${millimetres(numberOf(mark["off_m"]))}`, look: "measured", weight: numberOf(mark["off_m"]) });
  }
  for (const packer of tablesOf(survey.head["packers"]))
    piece.labels.push({ at: pointOf(packer["at"]), text: `packer ${millimetres(numberOf(packer["thickness_m"]))}`, look: "chosen", weight: 0.5 });
  for (const [numbers, colour] of [[arrows, "quiet"], [marks, "measured"]] as const) {
    const mesh = flatMesh(numbers, palette.of(colour));
    mesh.renderOrder = 6;
    (mesh.material as { depthTest: boolean }).depthTest = false;
    piece.group.add(mesh);
  }
  if (marks.length > 0) piece.legend.push({ sign: "arrow", colour: "--measured", text: `measured: marks from drawn to found, ${factor} times larger` });
  if (arrows.length > 0) piece.legend.push({ sign: "arrow", colour: "--quiet", text: `computed: blocks from drawn to where packing brings them, ${factor} times larger` });
  return piece;
}
