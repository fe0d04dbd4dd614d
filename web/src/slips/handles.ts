// What is dragged in the picture to change the brief: points in plan, rise, depths.

import type { Key, KeyChange, Point } from "../api";
import type { Sheaf } from "../sheaf";
import type { Desk } from "../slips";
import type { Handle, HandleMark } from "../structure/structure";
import type { Hand } from "./hand";
import { parseLength, writeLength } from "./lengths";
import { toField } from "./keytext";
import { drag, onlyOutline, readPlan } from "./plan";

export interface Upright { // dragged up and down
  id: string;
  label: string;
  at: Point;
  foot: Point; // what it belongs to, where it stands off
  change(z: number): KeyChange[];
}

/** Nearest vertex in plan; -1: none. */
export function nearestVertex(vertices: Float32Array, x: number, y: number): number {
  let best = -1, least = Infinity;
  for (let i = 0; 3 * i + 2 < vertices.length; ++i) {
    const dx = (vertices[3 * i] ?? 0) - x, dy = (vertices[3 * i + 1] ?? 0) - y;
    if (dx * dx + dy * dy >= least) continue;
    least = dx * dx + dy * dy;
    best = i;
  }
  return best;
}

function highest(vertices: Float32Array): number {
  let best = -1;
  for (let i = 0; 3 * i + 2 < vertices.length; ++i) if (best < 0 || (vertices[3 * i + 2] ?? 0) > (vertices[3 * best + 2] ?? 0)) best = i;
  return best;
}

const vertex = (of: Float32Array, i: number): Point => [of[3 * i] ?? 0, of[3 * i + 1] ?? 0, of[3 * i + 2] ?? 0];

/** Rise on a staff over the crown, depth on the crown's back and on the first springing's back. */
export function uprights(keys: readonly Key[], shape: Sheaf): Upright[] {
  const vertices = shape.f32("vertices"), upper = shape.f32("upper");
  const crown = highest(vertices);
  if (crown < 0) return [];
  const list: Upright[] = [];
  const lengthOf = (name: string): { key: Key; value_m: number; unit: string } | null => {
    const key = keys.find((k) => k.key === name);
    const length = key && parseLength(toField(key.text));
    return key && length ? { key, ...length } : null;
  };
  const rise = lengthOf("form.rise");
  if (rise) {
    const foot = vertex(upper.length === vertices.length ? upper : vertices, crown);
    const at: Point = [foot[0], foot[1], foot[2] + staff(vertices)];
    list.push({ id: "form.rise", label: "Rise", at, foot, change: (z) => written("form.rise", Math.max(0.01, rise.value_m + z - at[2]), rise.unit) });
  }
  const depth = (name: string, label: string, i: number): void => {
    const now = lengthOf(name);
    if (!now || i < 0 || upper.length !== vertices.length) return;
    const at = vertex(upper, i), half = at[2] - (vertices[3 * i + 2] ?? 0);
    if (half <= 1e-3) return;
    list.push({ id: name, label, at, foot: at, change: (z) => written(name, Math.max(0.01, (now.value_m * (z - at[2] + half)) / half), now.unit) });
  };
  depth("section.depth_crown", "Depth at the crown", crown);
  const support = firstSupport(shape);
  if (support) depth("section.depth_springing", "Depth at the springing", nearestVertex(vertices, support[0], support[1]));
  return list;
}

function firstSupport(shape: Sheaf): readonly [number, number] | null {
  const supports = shape.head["supports"];
  const first = Array.isArray(supports) ? (supports[0] as { a?: unknown; b?: unknown } | undefined) : undefined;
  if (!first || !Array.isArray(first.a) || !Array.isArray(first.b)) return null;
  const [ax, ay] = first.a as number[], [bx, by] = first.b as number[];
  // a quarter along: in its middle sits the handle of the whole support
  return ax === undefined || ay === undefined || bx === undefined || by === undefined ? null : [ax + (bx - ax) / 4, ay + (by - ay) / 4];
}

/** How far the rise's handle stands over the crown, so that it is not on that of the depth. */
function staff(vertices: Float32Array): number {
  let far = 0;
  for (let i = 0; 3 * i + 2 < vertices.length; ++i)
    far = Math.max(far, Math.hypot((vertices[3 * i] ?? 0) - (vertices[0] ?? 0), (vertices[3 * i + 1] ?? 0) - (vertices[1] ?? 0)));
  return Math.min(1.5, Math.max(0.3, 0.1 * far));
}

const written = (key: string, value_m: number, unit: string): KeyChange[] => [{ key, text: `"${writeLength(value_m, unit)}"` }];

const markOf = (h: { id: string; label: string }): HandleMark => (h.label.startsWith("End") ? "end" : /^plan\.support\[\d+\]$/.test(h.id) ? "whole" : "point");

/** Keeps one handle a place that can be dragged; while one is held, none is put anew. */
export class Handles {
  private shown: { id: string; handle: Handle }[] = [];
  private holding = "";
  private later: (() => void) | null = null;
  private readonly rested = new Set<() => void>();

  constructor(private readonly desk: Desk, private readonly hand: Hand) {}

  get held(): boolean {
    return this.holding !== "";
  }

  onRest(call: () => void): () => void {
    this.rested.add(call);
    return () => this.rested.delete(call);
  }

  lay(keys: readonly Key[], shape: Sheaf | null, outlineToo: boolean): void {
    if (this.holding !== "") {
      this.later = () => this.lay(keys, shape, outlineToo);
      return;
    }
    const plan = readPlan(keys);
    const vertices = shape?.f32("vertices") ?? new Float32Array(0);
    const level = (x: number, y: number): number => vertices[3 * nearestVertex(vertices, x, y) + 2] ?? 0;
    const wanted = plan.handles.filter((h) => outlineToo || !onlyOutline(h));
    const upright = shape ? uprights(keys, shape) : [];
    this.staffs = new Map(upright.map((u) => [u.id, { ...u, says: `${u.label} ${toField(keys.find((k) => k.key === u.id)?.text ?? "")}` }]));
    this.keep([
      ...wanted.map((h) => ({ id: h.id, label: h.label, at: [h.at[0], h.at[1], level(h.at[0], h.at[1])] as Point, along: "plan" as const, mark: markOf(h), change: (to: Point) => drag(plan, h.id, [to[0], to[1]]) })),
      ...upright.map((u) => ({ id: u.id, label: u.label, at: u.at, along: "up" as const, mark: (u.id === "form.rise" ? "rise" : "depth") as HandleMark, change: (to: Point) => u.change(to[2]) })),
    ]);
    this.label();
  }

  clear(): void {
    for (const { handle } of this.shown) handle.remove();
    this.shown = [];
    this.later = null;
    this.desk.structure.overlay("change-uprights", null);
  }

  private staffs = new Map<string, { at: Point; foot: Point; label: string; says: string }>();
  /** Each upright handle says its figure, with a line down to what it belongs to. */
  private label(): void {
    const all = [...this.staffs.values()];
    for (const { id, handle } of this.shown) {
      const staff = this.staffs.get(id);
      if (staff) handle.say(staff.says);
    }
    const lines = new Float32Array(all.flatMap((s) => [...s.foot, ...s.at]));
    this.desk.structure.overlay("change-uprights", all.length === 0 ? null : { lines, colour: "chosen" });
  }

  private moves = new Map<string, (to: Point) => KeyChange[]>();

  private keep(wanted: { id: string; label: string; at: Point; along: "plan" | "up"; mark: HandleMark; change: (to: Point) => KeyChange[] }[]): void {
    for (const { id, handle } of this.shown) if (!wanted.some((w) => w.id === id)) handle.remove();
    this.moves = new Map(wanted.map((w) => [w.id, w.change]));
    this.shown = wanted.map((w) => {
      const there = this.shown.find((s) => s.id === w.id);
      if (there) {
        there.handle.moveTo(w.at);
        return there;
      }
      const handle = this.desk.structure.addHandle({ at: w.at, label: w.label, along: w.along, mark: w.mark, step_m: 0.01,
        onDrag: (at, phase) => this.dragged(w.id, at, phase) });
      return { id: w.id, handle };
    });
  }

  private dragged(id: string, at: Point, phase: "moves" | "rests"): void {
    if (this.holding === "") {
      this.holding = id;
      this.hand.hold(id);
    }
    if (this.holding !== id) return;
    const changes = this.moves.get(id)?.(at) ?? [];
    const staff = this.staffs.get(id);
    if (staff && changes[0]) {
      this.staffs.set(id, { ...staff, at, says: `${staff.label} ${toField(changes[0].text)}` });
      this.label();
    }
    this.hand.change(id, changes);
    if (phase === "moves") return;
    void this.hand.letGo(id).then(() => {
      this.holding = "";
      const later = this.later;
      this.later = null;
      later?.();
      for (const call of this.rested) call();
    });
  }
}
