// A place that is off the walking surface, and the nearest on it, as the server names them.

import type { Fault } from "../source";

type Xy = readonly [number, number];
export interface OffWalk {
  kind: "crowd" | "person";
  index: number; // among those of its kind
  nearest: Xy;
}

/** Of "crowds[0].at", "a place on it; the nearest is (1.200, -0.400)". */
export function offTheWalk(faults: readonly Fault[]): OffWalk[] {
  return faults.flatMap((fault): OffWalk[] => {
    const key = /^(crowd|person)s\[(\d+)\]/.exec(fault.key ?? "");
    const near = /nearest is \((-?[\d.]+), (-?[\d.]+)\)/.exec(`${fault.expected ?? ""} ${fault.says}`);
    if (key === null || near === null) return [];
    return [{ kind: key[1] as OffWalk["kind"], index: Number(key[2]), nearest: [Number(near[1]), Number(near[2])] }];
  });
}

/** A little farther in than the nearest, which is told to the millimetre and may lie outside by less. */
export function justInside(from: Xy, nearest: Xy, by_m: number): [number, number] {
  const d = [nearest[0] - from[0], nearest[1] - from[1]] as const;
  const far = Math.hypot(...d);
  const round = (v: number): number => Math.round(v * 1000) / 1000;
  return far < 1e-9 ? [nearest[0], nearest[1]] : [round(nearest[0] + (by_m * d[0]) / far), round(nearest[1] + (by_m * d[1]) / far)];
}
