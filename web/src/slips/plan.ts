// What can be dragged in plan: the points of the brief, and what goes along with each.

import type { Change } from "./edits";
import { asPoint, parseList, writePoint, type Nested, type PlanPoint } from "./lengths";

export interface KeyText {
  key: string;
  text: string;
}
export interface Placed extends PlanPoint {
  key: string; // "plan.outline[3]", "plan.support[2].ends[1]", "walkway.lines[1][2]"
}
export interface Handle {
  id: string;
  label: string;
  at: [number, number];
  moves: { key: string; share: number }[]; // of the drag, that each point takes
}
export interface Plan {
  points: Placed[];
  handles: Handle[];
}

type Xy = readonly [number, number];
const near = (a: Xy, b: Xy): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 1.5e-3;

/** Points of a key whose text is a point, a list of points or a list of such lists. */
function pointsOf(key: string, text: string): Placed[] {
  const list = parseList(text);
  if (!list) return [];
  const walk = (item: Nested, name: string, depth: number): Placed[] => {
    const point = asPoint(item);
    if (point) return [{ key: name, ...point }];
    if (!Array.isArray(item) || depth > 2) return [];
    return item.flatMap((inner, i) => walk(inner, `${name}[${i + 1}]`, depth + 1));
  };
  return walk(list, key, 0);
}

const dragged = /^(plan\.outline|plan\.meeting|plan\.support\[\d+\]\.ends|walkway\.lines)(\[\d+\])*$/;

/** Empty where the plan comes from a file, or is written in units that this page does not know. */
export function readPlan(keys: readonly KeyText[]): Plan {
  const points = keys.filter((k) => dragged.test(k.key)).flatMap((k) => pointsOf(k.key, k.text));
  const names = new Map(keys.flatMap((k) => {
    const match = /^plan\.support\[(\d+)\]\.id$/.exec(k.key);
    return match ? [[match[1] ?? "", k.text.replace(/^["']|["']$/g, "")] as const] : [];
  }));
  return { points, handles: [...pointHandles(points, names), ...lineHandles(points, names)] };
}

function pointHandles(points: readonly Placed[], names: ReadonlyMap<string, string>): Handle[] {
  const handles: Handle[] = [];
  for (const p of points) {
    if (p.key.startsWith("walkway")) continue; // only goes along
    const there = handles.find((h) => near(h.at, p.at));
    if (there) {
      there.moves.push({ key: p.key, share: 1 });
      if (p.key.startsWith("plan.support")) there.label = labelOf(p.key, names);
    } else {
      handles.push({ id: p.key, label: labelOf(p.key, names), at: p.at, moves: [{ key: p.key, share: 1 }] });
    }
  }
  for (const handle of handles) handle.moves.push(...followersOfEnd(handle, points));
  return handles;
}

function labelOf(key: string, names: ReadonlyMap<string, string>): string {
  const support = /^plan\.support\[(\d+)\]\.ends\[(\d+)\]$/.exec(key);
  if (support) return `End ${support[2]} of the support ${names.get(support[1] ?? "") ?? support[1]}`;
  const outline = /^plan\.outline\[(\d+)\]$/.exec(key);
  return outline ? `Outline point ${outline[1]}` : "Meeting point";
}

/** A point that is no end of a support: it has a handle when it is asked for. */
export const onlyOutline = (h: Pick<Handle, "id" | "label">): boolean => h.id.startsWith("plan.outline") && !h.label.startsWith("End");

interface Line { n: string; a: Placed; b: Placed }

function supportLines(points: readonly Placed[]): Line[] {
  return points.flatMap((a) => {
    const match = /^plan\.support\[(\d+)\]\.ends\[1\]$/.exec(a.key);
    const b = match && points.find((p) => p.key === `plan.support[${match[1]}].ends[2]`);
    return match && b ? [{ n: match[1] ?? "", a, b }] : [];
  });
}

/** Where a point lies on a line, 0 at a and 1 at b; null: off it by more than 5 mm. */
export function shareAlong(p: Xy, a: Xy, b: Xy): number | null {
  const dx = b[0] - a[0], dy = b[1] - a[1];
  const square = dx * dx + dy * dy;
  if (square === 0) return null;
  const t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square;
  const off = Math.abs((p[0] - a[0]) * dy - (p[1] - a[1]) * dx) / Math.sqrt(square);
  return off < 5e-3 && t > -1e-3 && t < 1 + 1e-3 ? t : null;
}

function onLine(points: readonly Placed[], { a, b }: Line): { point: Placed; t: number }[] {
  return points.flatMap((point) => {
    if (!/^(walkway|plan\.outline)/.test(point.key)) return [];
    const t = shareAlong(point.at, a.at, b.at);
    return t === null ? [] : [{ point, t }];
  });
}

/** Walkway ends on a support line stay on it when an end of that line is moved; all at a moved point follow. */
function followersOfEnd(handle: Handle, points: readonly Placed[]): Handle["moves"] {
  const taken = new Set(handle.moves.map((m) => m.key));
  const moves: Handle["moves"] = [];
  const add = (key: string, share: number): void => {
    if (share <= 1e-3 || taken.has(key)) return;
    taken.add(key);
    moves.push({ key, share: Math.min(1, share) });
  };
  for (const p of points) if (near(p.at, handle.at)) add(p.key, 1);
  for (const line of supportLines(points)) {
    const end = near(line.a.at, handle.at) ? "a" : near(line.b.at, handle.at) ? "b" : null;
    if (end) for (const { point, t } of onLine(points, line)) add(point.key, end === "a" ? 1 - t : t);
  }
  return moves;
}

function lineHandles(points: readonly Placed[], names: ReadonlyMap<string, string>): Handle[] {
  return supportLines(points).map((line) => ({
    id: `plan.support[${line.n}]`,
    label: `The whole support ${names.get(line.n) ?? line.n}`,
    at: [(line.a.at[0] + line.b.at[0]) / 2, (line.a.at[1] + line.b.at[1]) / 2],
    moves: [line.a, line.b, ...onLine(points, line).map((f) => f.point)].map((p) => ({ key: p.key, share: 1 })),
  }));
}

/** The keys that a handle dragged to `to` writes, in the units they were written in. */
export function drag(plan: Plan, id: string, to: Xy): Change[] {
  const handle = plan.handles.find((h) => h.id === id);
  if (!handle) return [];
  const dx = to[0] - handle.at[0], dy = to[1] - handle.at[1];
  return handle.moves.flatMap(({ key, share }) => {
    const p = plan.points.find((q) => q.key === key);
    return p ? [{ key, text: writePoint([p.at[0] + share * dx, p.at[1] + share * dy], p.units) }] : [];
  });
}
