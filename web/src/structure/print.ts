// A block's layers where the block will stand, so that the thrust is seen to cross them: and a rod
// where the nozzle is, along its axis, with a square that lies in the layer.

import { BufferAttribute, BufferGeometry, LineBasicMaterial, LineSegments, Quaternion, Vector3, Box3 } from "three";
import { figure } from "../figures";
import { tablesOf, textOf } from "../heads";
import type { Sheaf } from "../sheaf";
import type { Palette } from "./palette";
import { emptyPiece, lineSegments, type Piece } from "./pieces";

/** Index of the last tip whose time is not after `time_s`; times rise. */
export function tipAt(time_s: Float32Array, at_s: number): number {
  let low = 0;
  let high = time_s.length - 1;
  while (low < high) {
    const mid = (low + high + 1) >> 1;
    if ((time_s[mid] as number) <= at_s) low = mid;
    else high = mid - 1;
  }
  return low;
}

export interface PrintPiece extends Piece {
  box: Box3;
  /** Shows what is laid at a share of the whole time. */
  show(share: number): void;
  words: string;
}
export function printPiece(layers: Sheaf, palette: Palette): PrintPiece {
  const piece = emptyPiece();
  const tips = layers.f32("tips");
  const width = layers.f32("width_m");
  const layer = layers.u32("layer");
  const axis = layers.f32("axis");
  const time = layers.f32("time_s");
  const count = tips.length / 3;
  const box = new Box3();
  const positions = new Float32Array(Math.max(0, count - 1) * 6);
  const colours = new Float32Array(positions.length);
  const [low, high, travel] = [palette.of("stone"), palette.of("ink"), palette.of("chosen")];
  const most = layer.reduce((m, l) => Math.max(m, l), 1);
  for (let i = 0; i + 1 < count; ++i) {
    positions.set(tips.subarray(3 * i, 3 * i + 6), 6 * i);
    const laid = (width[i + 1] ?? 0) > 0;
    const colour = laid ? low.clone().lerp(high, 0.1 + (0.8 * (layer[i + 1] ?? 0)) / most) : travel;
    for (const end of [0, 3]) colours.set([colour.r, colour.g, colour.b], 6 * i + end);
    if (laid) box.expandByPoint(new Vector3(tips[3 * i], tips[3 * i + 1], tips[3 * i + 2]));
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions, 3));
  geometry.setAttribute("color", new BufferAttribute(colours, 3));
  const lines = new LineSegments(geometry, new LineBasicMaterial({ vertexColors: true }));
  lines.frustumCulled = false;
  const rod_m = Math.max(0.02, box.getSize(new Vector3()).length() * 0.16), side = rod_m * 0.14;
  const square = [[-side, -side], [side, -side], [side, side], [-side, side]] as const;
  const nozzle = lineSegments([0, 0, 0, 0, rod_m, 0, ...square.flatMap(([x, z], i) => {
    const [nx, nz] = square[(i + 1) % 4] as readonly [number, number];
    return [x, 0, z, nx, 0, nz];
  })], palette.of("ink"));
  nozzle.renderOrder = 6;
  piece.group.add(lines, nozzle);
  const total = time[count - 1] ?? 0;
  const show = (share: number): void => {
    const i = share >= 1 ? count - 1 : tipAt(time, total * share);
    geometry.setDrawRange(0, Math.max(0, 2 * i));
    nozzle.position.set(tips[3 * i] ?? 0, tips[3 * i + 1] ?? 0, tips[3 * i + 2] ?? 0);
    const up = new Vector3(axis[3 * i] ?? 0, axis[3 * i + 1] ?? 0, axis[3 * i + 2] ?? 1);
    if (up.lengthSq() > 0) nozzle.quaternion.copy(new Quaternion().setFromUnitVectors(new Vector3(0, 1, 0), up.normalize()));
  };
  show(1);
  const printable = layers.head["printable"] === true;
  const failed = tablesOf(layers.head["checks"]).filter((check) => check["passes"] === false).map((check) => textOf(check["name"]));
  const layers_n = Array.isArray(layers.head["layers"]) ? layers.head["layers"].length : most + 1;
  const words =
    `${textOf(layers.head["block"])}: ${layers_n} layers, ${figure(total / 60)} minutes of the nozzle. ` +
    (printable ? "It can be printed so." : `It cannot be printed so: ${textOf(layers.head["reason"]) || failed.join(", ")}.`);
  piece.legend.push({ sign: "line", colour: "--ink", text: words });
  piece.legend.push({ sign: "patch", colour: "--ink", text: "layers, from stone to ink as they are laid; yellow: the nozzle only travels" });
  return { ...piece, box, show, words };
}
