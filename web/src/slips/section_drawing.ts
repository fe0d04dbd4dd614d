// From a joint and its state to what is drawn: only scale and words are added to what the sheaves hold.

import { bounds, extentAt, hull, isRectangle, kern, pressed, wedge, type Plane, type Point, type Ring, type Wedge } from "./section";

type Vec3 = readonly [number, number, number];

export interface JointShape {
  id: string; a: string; b: string;
  at: Vec3; x: Vec3; y: Vec3; z: Vec3;
  friction: number;
  pad_m: number | null;
  rings: Ring[];
  depth_m: number;
}
export interface JointState {
  force: Vec3; // on b, world
  thrust_at: Vec3 | null; // null: no force crosses
  peak_pa: number;
  pressure: Plane | null;
  opening_m: number;
  closed_share: number;
  slipping: boolean;
  friction_used: number;
  pads: { at: Vec3; pa: number }[];
}
export interface Section {
  rings: Ring[];
  compressed: Point[][];
  kern: Point[] | null;
  kernName: string;
  thrust: Point | null;
  thrustHolds: "in the kern" | "outside the kern" | "outside the joint" | null;
  pads: { at: Point; share: number }[]; // of the greatest pressure there
  wedge: Wedge | null;
  neutral: [Point, Point] | null; // where pressure ends
  normal_n: number; // compresses when positive
  shear_n: number;
  angle_rad: number | null;
  frictionAngle_rad: number;
  depthShare: number | null; // thrust point along the depth there: 0 at the intrados, 1 at the extrados
  depth_m: number; // in the middle of the width: the arch without what stands along its edges
  over_m: number; // from the lowest to the highest point of the joint
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

export const inFrame = (joint: JointShape, p: Vec3): Point => {
  const r = minus(p, joint.at);
  return [dot(r, joint.x), dot(r, joint.y)];
};

export function section(joint: JointShape, state: JointState): Section {
  const normal = dot(state.force, joint.z);
  const size = Math.sqrt(dot(state.force, state.force));
  const shear = Math.sqrt(Math.max(0, size * size - normal * normal));
  const thrust = state.thrust_at && size > 0 ? inFrame(joint, state.thrust_at) : null;
  const core = kern(joint.rings);
  const box = bounds(joint.rings);
  const most = Math.max(0, ...state.pads.map((p) => p.pa));
  return {
    rings: joint.rings,
    compressed: state.pressure ? joint.rings.map((r) => pressed(r, state.pressure ?? { p: 0, px: 0, py: 0 })).filter((r) => r.length > 2) : [],
    kern: core,
    kernName: isRectangle(joint.rings) ? "kern, between the middle thirds" : "kern",
    thrust,
    thrustHolds: thrust ? holds(joint.rings, core, thrust) : null,
    pads: most > 0 ? state.pads.filter((p) => p.pa > 0).map((p) => ({ at: inFrame(joint, p.at), share: p.pa / most })) : [],
    wedge: state.pressure ? wedge(joint.rings, state.pressure) : null,
    neutral: state.pressure ? neutralLine(joint.rings, state.pressure) : null,
    normal_n: normal,
    shear_n: shear,
    angle_rad: size > 0 ? Math.atan2(shear, normal) : null,
    frictionAngle_rad: Math.atan(joint.friction),
    depthShare: thrust ? shareOf(joint.rings, thrust) : null,
    depth_m: middleDepth(joint),
    over_m: box ? box.y1 - box.y0 : joint.depth_m,
  };
}

function middleDepth(joint: JointShape): number {
  const box = bounds(joint.rings);
  const extent = box ? extentAt(joint.rings, (box.x0 + box.x1) / 2) : null;
  return extent ? extent[1] - extent[0] : joint.depth_m;
}
function shareOf(rings: readonly Ring[], [x, y]: Point): number | null {
  const box = bounds(rings);
  const [from, to] = extentAt(rings, x) ?? (box ? [box.y0, box.y1] : [0, 0]);
  return to > from ? (y - from) / (to - from) : null;
}
/** What stands along the edges, or an edge that hangs, adds to the depth by more than a tenth. */
export const standsOver = (s: Section): boolean => s.over_m > 1.1 * s.depth_m;

function holds(rings: readonly Ring[], core: readonly Point[] | null, thrust: Point): Section["thrustHolds"] {
  if (core && convexSide(core, thrust)) return "in the kern";
  return convexSide(hullOf(rings), thrust) ? "outside the kern" : "outside the joint";
}

const hullOf = (rings: readonly Ring[]): Point[] => hull(rings.flat());

/** On one side of every edge of a convex ring, whichever way it runs. */
function convexSide(ring: readonly Point[], [x, y]: Point): boolean {
  let left = false, right = false;
  ring.forEach(([px, py], i) => {
    const [qx, qy] = ring[(i + 1) % ring.length] ?? [px, py];
    const side = (qx - px) * (y - py) - (qy - py) * (x - px);
    if (side > 1e-12) left = true;
    if (side < -1e-12) right = true;
  });
  return !(left && right);
}

/** The line of no pressure, as long as the section is; null where all of it presses. */
export function neutralLine(rings: readonly Ring[], plane: Plane): [Point, Point] | null {
  const w = wedge(rings, plane);
  if (!w || w.zero <= w.from) return null;
  const across: Point = [-w.along[1], w.along[0]];
  const t = hullOf(rings).map((p) => p[0] * across[0] + p[1] * across[1]);
  const at = (s: number): Point => [w.along[0] * w.zero + across[0] * s, w.along[1] * w.zero + across[1] * s];
  return [at(Math.min(...t)), at(Math.max(...t))];
}
