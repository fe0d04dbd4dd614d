// Blocks moved: a small movement under load drawn larger, and the way a bridge would fall.

import type { Matrix4 } from "three";
import type { Point } from "../api";
import { figure, millimetres, roundBelow } from "../figures";
import type { BlockHead } from "../heads";
import type { Sheaf } from "../sheaf";
import { movedBy, shiftOf } from "./blocks";

export interface Largest {
  shift_m: number;
  block: number;
}
export function largestShift(move: ArrayLike<number>, centres: readonly Point[]): Largest {
  let most: Largest = { shift_m: 0, block: -1 };
  centres.forEach((centre, b) => {
    const shift_m = shiftOf(move, b, centre).length();
    if (shift_m > most.shift_m) most = { shift_m, block: b };
  });
  return most;
}
/** A round factor with which the largest shift is drawn not longer than a share of the structure. */
export function factorFor(largest_m: number, size_m: number, share: number): number {
  return largest_m > 0 ? roundBelow((size_m * share) / largest_m) : 1;
}

export interface Motion {
  factor: number;
  at(b: number, share: number): Matrix4;
  words: string;
  largest: Largest;
}
/** `rows`: per block of the bridge its row in the proof, or -1. */
export function motionOf(kind: "moved" | "mechanism", proof: Sheaf, heads: readonly BlockHead[], rows: readonly number[], size_m: number): Motion | null {
  const move = proof.f32(kind === "moved" ? "move" : "mechanism");
  if (move.length === 0) return null;
  const all = new Float32Array(heads.length * 6);
  rows.forEach((row, b) => row >= 0 && all.set(move.subarray(6 * row, 6 * row + 6), 6 * b));
  const largest = largestShift(all, heads.map((head) => head.at));
  if (largest.block < 0) return null;
  // Of a way to fall only the way counts, not the size.
  const factor = kind === "moved" ? factorFor(largest.shift_m, size_m, 0.05) : (size_m * 0.066) / largest.shift_m;
  const words =
    kind === "moved"
      ? `movements drawn ${figure(factor)} times larger; the most is ${millimetres(largest.shift_m)} (${heads[largest.block]?.id ?? "?"})`
      : `the way it would fall${fallsAt(proof)}, to and fro; only the way counts, not how far`;
  return { factor, largest, words, at: (b, share) => movedBy(all, 6 * b, factor * share, heads[b]?.at ?? [0, 0, 0]) };
}
function fallsAt(proof: Sheaf): string {
  const factor = proof.head["mechanism_factor"];
  return typeof factor === "number" && factor > 0 ? ` at ${figure(factor)} times its live load` : "";
}
/** To and fro between 0 and 1, slowly; `seconds` there and back. */
export function toAndFro(now_ms: number, seconds = 5): number {
  return 0.5 - 0.5 * Math.cos((2 * Math.PI * now_ms) / 1000 / seconds);
}
