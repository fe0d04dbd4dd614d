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
