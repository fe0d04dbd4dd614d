// A question as it goes to the bridge (docs/lodge.md, "Question"), and what can be said of it in words.

import type { Question } from "../api";

export type { Question };
export type Crowd = Question["crowds"][number];
export type Person = Question["persons"][number];
export type Push = Question["pushes"][number];

export const nothingAsked = (caseId: string): Question => ({
  case: caseId, live_factor: 1, crowds: [], persons: [], pushes: [], without_blocks: [], without_ties: [], friction: null,
});

export const asksSomething = (q: Question): boolean =>
  q.crowds.length + q.persons.length + q.pushes.length + q.without_blocks.length + q.without_ties.length > 0 ||
  q.friction !== null || q.live_factor !== 1;

export interface SupportLine { name: string; a: readonly number[]; b: readonly number[] }

/**
 * A footing's own directions: along its line, across it (away from the bridge's middle) and up; the
 * world shift, in metres, of so many millimetres each way.
 */
export function shift(support: SupportLine, middle: readonly number[], along_mm: number, across_mm: number, up_mm: number): [number, number, number] {
  const [ax = 0, ay = 0] = support.a, [bx = 0, by = 0] = support.b;
  const length = Math.hypot(bx - ax, by - ay) || 1;
  const tx = (bx - ax) / length, ty = (by - ay) / length;
  const out = ((ax + bx) / 2 - (middle[0] ?? 0)) * ty - ((ay + by) / 2 - (middle[1] ?? 0)) * tx >= 0 ? 1 : -1;
  const nx = out * ty, ny = -out * tx;
  return [(along_mm * tx + across_mm * nx) / 1000, (along_mm * ty + across_mm * ny) / 1000, up_mm / 1000];
}

/** The middle of all support lines in plan. */
export function middleOf(supports: readonly SupportLine[]): [number, number] {
  const ends = supports.flatMap((s) => [s.a, s.b]);
  const n = Math.max(1, ends.length);
  return [ends.reduce((t, e) => t + (e[0] ?? 0), 0) / n, ends.reduce((t, e) => t + (e[1] ?? 0), 0) / n];
}

/** What is asked, in plain words; empty: nothing. */
export function inWords(q: Question, supports: readonly SupportLine[]): string[] {
  const words: string[] = [];
  const place = (at: readonly number[]): string => `x ${fixed(at[0], 2)} m, y ${fixed(at[1], 2)} m`;
  for (const c of q.crowds) words.push(`A crowd of ${fixed(c.pressure_pa / 1000, 1)} kPa within ${fixed(c.radius_m, 2)} m of ${place(c.at)}.`);
  for (const p of q.persons) words.push(`A person of ${fixed(p.force_n, 0)} N at ${place(p.at)}.`);
  for (const p of q.pushes) words.push(pushWords(p, supports[p.support]?.name ?? `footing ${p.support + 1}`));
  for (const b of q.without_blocks) words.push(`Block ${b} is away.`);
  for (const t of q.without_ties) words.push(`Tie ${t} is out.`);
  if (q.friction !== null) words.push(`Friction is ${q.friction} in all joints.`);
  if (q.live_factor !== 1) words.push(`The case's own live load is taken ${q.live_factor} times.`);
  return words;
}

function pushWords(p: Push, name: string): string {
  const flat = Math.hypot(p.shift_m[0], p.shift_m[1]) * 1000;
  const up = p.shift_m[2] * 1000;
  const parts = [];
  if (flat > 0) parts.push(`moved ${fixed(flat, 1)} mm in plan`);
  if (up !== 0) parts.push(`${up > 0 ? "raised" : "lowered"} ${fixed(Math.abs(up), 1)} mm`);
  if (p.turn_rad !== 0) parts.push(`turned ${fixed((p.turn_rad * 180) / Math.PI, 2)} degrees`);
  return `The footing ${name} is ${parts.join(", ") || "where it was"}.`;
}

const fixed = (v: number | undefined, decimals: number): string => (v ?? 0).toFixed(decimals);

/** A typed place: "1.2, 3.4", "1.2 m; -3 m" or "1,2 3,4"; null: it is no place. */
export function readPlace(text: string): [number, number] | null {
  const clean = text.replace(/\bm\b/g, " ").trim();
  const parts = /[;\s]/.test(clean.replace(/,\s/g, ";").trim()) ? clean.replace(/,\s/g, ";").split(/[;\s]+/) : clean.split(",");
  const numbers = parts.filter((p) => p !== "").map((p) => Number(p.replace(",", ".")));
  const [x, y] = numbers;
  return numbers.length === 2 && x !== undefined && y !== undefined && Number.isFinite(x) && Number.isFinite(y) ? [x, y] : null;
}
