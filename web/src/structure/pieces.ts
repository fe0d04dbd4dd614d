// Small makers of three.js parts, and what clears them up again.

import {
  BufferAttribute, BufferGeometry, Color, DoubleSide, Group, LineBasicMaterial, LineDashedMaterial, LineSegments, Mesh, MeshBasicMaterial,
  type Material, type Object3D,
} from "three";
import type { Point } from "../api";
import type { Label } from "./labels";

/** One line of the legend. */
export interface LegendLine {
  sign: "line" | "ramp" | "patch" | "arrow" | "dash" | "faint";
  colour: string; // name of a CSS colour of the page
  text: string;
}
/** Something that is drawn because it is wanted: rebuilt as a whole when what it shows changed. */
export interface Piece {
  group: Group;
  labels: Label[];
  legend: LegendLine[];
  /** Moves on its own: gives false when it needs no more frames. */
  step?: (now: number) => boolean;
}
export function emptyPiece(): Piece {
  return { group: new Group(), labels: [], legend: [] };
}

export function lineSegments(numbers: Float32Array | number[], colour: Color, width_opacity = 1): LineSegments {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(numbers instanceof Float32Array ? numbers : new Float32Array(numbers), 3));
  const material = new LineBasicMaterial({ color: colour, transparent: width_opacity < 1, opacity: width_opacity });
  return new LineSegments(geometry, material);
}
export function dashedSegments(numbers: number[], colour: Color, dash_m: number): LineSegments {
  const lines = lineSegments(numbers, colour);
  (lines.material as LineBasicMaterial).dispose();
  lines.material = new LineDashedMaterial({ color: colour, dashSize: dash_m, gapSize: dash_m * 0.7 });
  return lines.computeLineDistances();
}
export function flatMesh(positions: Float32Array | number[], colour: Color, opacity = 1): Mesh {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions instanceof Float32Array ? positions : new Float32Array(positions), 3));
  const material = new MeshBasicMaterial({ color: colour, side: DoubleSide, transparent: opacity < 1, opacity, depthWrite: opacity >= 1 });
  return new Mesh(geometry, material);
}

/** A bar between two points, `ra` and `rb` thick at its ends: triangles put at the end of `out`. */
export function pushBar(out: number[], a: Point, b: Point, ra: number, rb: number, sides = 8): void {
  const d: Point = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const length = Math.hypot(...d);
  if (length < 1e-9) return;
  const u: Point = [d[0] / length, d[1] / length, d[2] / length];
  const other: Point = Math.abs(u[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const v = normal(cross(u, other));
  const w = cross(u, v);
  const at = (end: Point, r: number, i: number): Point => {
    const angle = (2 * Math.PI * i) / sides;
    const c = r * Math.cos(angle);
    const s = r * Math.sin(angle);
    return [end[0] + c * v[0] + s * w[0], end[1] + c * v[1] + s * w[1], end[2] + c * v[2] + s * w[2]];
  };
  for (let i = 0; i < sides; ++i) {
    const a0 = at(a, ra, i), a1 = at(a, ra, i + 1), b0 = at(b, rb, i), b1 = at(b, rb, i + 1);
    out.push(...a0, ...b0, ...b1, ...a0, ...b1, ...a1);
    out.push(...a, ...a0, ...a1, ...b, ...b1, ...b0);
  }
}
/** An arrow that ends at `b`. */
export function pushArrow(out: number[], a: Point, b: Point, r: number): void {
  const d: Point = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const length = Math.hypot(...d);
  if (length < 1e-9) return;
  const head = Math.min(length * 0.6, r * 7);
  const neck: Point = [b[0] - (d[0] / length) * head, b[1] - (d[1] / length) * head, b[2] - (d[2] / length) * head];
  pushBar(out, a, neck, r, r);
  pushBar(out, neck, b, r * 2.8, 0);
}
export function cross(a: Point, b: Point): Point {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
export function normal(a: Point): Point {
  const length = Math.hypot(...a) || 1;
  return [a[0] / length, a[1] / length, a[2] / length];
}

export function clear(thing: Object3D): void {
  thing.traverse((each) => {
    const { geometry, material } = each as Partial<Mesh>;
    geometry?.dispose();
    for (const one of Array.isArray(material) ? material : material ? [material] : []) (one as Material).dispose();
  });
  thing.removeFromParent();
}
