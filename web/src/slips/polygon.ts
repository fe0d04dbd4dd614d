// The force polygon of a node: forces in plan, head to tail; they close.

export type Xyz = readonly [number, number, number];
export interface NodeForces {
  at: Xyz;
  load_n: number | null;
  closure_rel: number | null;
  forces: { kind: string; force: Xyz }[];
}

/** What came for GET /api/node; null where it is not what docs/lodge.md says. */
export function readNode(value: unknown): NodeForces | null {
  if (typeof value !== "object" || value === null) return null;
  const told = value as { at?: unknown; forces?: unknown; load_n?: unknown; closure_rel?: unknown };
  const at = xyz(told.at);
  if (!at || !Array.isArray(told.forces)) return null;
  const forces: NodeForces["forces"] = [];
  for (const each of told.forces as unknown[]) {
    const one = each as { kind?: unknown; force?: unknown };
    const force = xyz(one.force);
    if (!force) return null;
    forces.push({ kind: typeof one.kind === "string" ? one.kind : "edge", force });
  }
  const number = (v: unknown): number | null => (typeof v === "number" && Number.isFinite(v) ? v : null);
  return { at, forces, load_n: number(told.load_n), closure_rel: number(told.closure_rel) };
}

function xyz(value: unknown): Xyz | null {
  if (!Array.isArray(value) || value.length < 3) return null;
  const [x, y, z] = value as unknown[];
  return typeof x === "number" && typeof y === "number" && typeof z === "number" && Number.isFinite(x + y + z) ? [x, y, z] : null;
}

export interface Side { from: readonly [number, number]; to: readonly [number, number]; size_n: number; kind: string; bearing_deg: number }

/** In plan, in the order given; forces that are upright (the load) have no side. */
export function sides(node: NodeForces): Side[] {
  const list: Side[] = [];
  const most = Math.max(0, ...node.forces.map((f) => Math.hypot(f.force[0], f.force[1])));
  let x = 0, y = 0;
  for (const { force, kind } of node.forces) {
    const size = Math.hypot(force[0], force[1]);
    const to = [x + force[0], y + force[1]] as const;
    if (size > 1e-9 * most && size > 0)
      list.push({ from: [x, y], to, size_n: size, kind, bearing_deg: ((Math.atan2(force[1], force[0]) * 180) / Math.PI + 360) % 360 });
    [x, y] = to;
  }
  return list;
}
