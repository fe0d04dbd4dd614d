// A block on the printer's table: its layers, and a nozzle that goes along them.

import { BufferAttribute, BufferGeometry, LineBasicMaterial, LineSegments, Mesh, MeshBasicMaterial, ConeGeometry, Matrix4, Quaternion, Vector3, Box3 } from "three";
import { figure } from "../figures";
import { numbersOf, tablesOf, textOf } from "../heads";
import type { Json, Sheaf } from "../sheaf";
import type { Palette } from "./palette";
import { emptyPiece, type Piece } from "./pieces";

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
  const tips = layers.f32("tips_table");
  const width = layers.f32("width_m");
  const layer = layers.u32("layer");
  const axis = axesOnTable(layers);
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
  const nozzleSize = Math.max(0.02, box.getSize(new Vector3()).length() * 0.12);
  const cone = new ConeGeometry(nozzleSize * 0.28, nozzleSize, 20);
  cone.applyMatrix4(new Matrix4().makeRotationX(Math.PI)); // tip down
  cone.applyMatrix4(new Matrix4().makeTranslation(0, nozzleSize / 2, 0));
  const nozzle = new Mesh(cone, new MeshBasicMaterial({ color: palette.of("ink") }));
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
  piece.legend.push({ sign: "patch", colour: "--ink", text: "layers, from stone to ink as they are laid; yellow: the nozzle travels and lays nothing" });
  return { ...piece, box, show, words };
}

/** The tool's axis is given in the world; the table has it turned back. */
function axesOnTable(layers: Sheaf): Float32Array {
  const axis = layers.f32("axis").slice();
  const m = numbersOf((layers.head["to_world"] as Json[] | undefined)?.flat() ?? []);
  if (m.length < 16) return axis;
  for (let i = 0; i + 2 < axis.length; i += 3) {
    const [x, y, z] = [axis[i] as number, axis[i + 1] as number, axis[i + 2] as number];
    for (let k = 0; k < 3; ++k) axis[i + k] = (m[k] as number) * x + (m[4 + k] as number) * y + (m[8 + k] as number) * z;
  }
  return axis;
}
