// A parabolic arch of blocks under even load, for tests of the page: its thrust line is the parabola
// itself, H = w L² / 8 f, so that forces, thrust points and pressures follow by statics.

import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { transform } from "esbuild";

const source = await readFile(fileURLToPath(new URL("../src/sheaf.ts", import.meta.url)), "utf8");
const { code } = await transform(source, { loader: "ts", format: "esm" });
const { encodeSheaf } = await import(`data:text/javascript;base64,${Buffer.from(code).toString("base64")}`);
const bytes = (head, arrays) => Buffer.from(encodeSheaf(head, arrays));
const f32 = (rows, width = 1) => ({ numbers: new Float32Array(rows.flat(2)), width });
const u32 = (rows, width = 1) => ({ numbers: new Uint32Array(rows.flat(2)), width });

const kSpan = 9, kWide = 1.9, kLoad = 13e3; // N/m
export const kBlocks = 11;

/** `rise_m` and `depth_m` as the brief says; `shift_m`: how far the thrust lies above the middle. */
export function sampleArch({ rise_m = 1.8, depth_m = 0.28, shift_m = 0, push_n = 0 } = {}) {
  const z = (x) => rise_m * (1 - (4 * x * x) / (kSpan * kSpan));
  const slope = (x) => (-8 * rise_m * x) / (kSpan * kSpan);
  const H = (kLoad * kSpan * kSpan) / (8 * rise_m);
  const xs = Array.from({ length: kBlocks + 1 }, (_, i) => -kSpan / 2 + (kSpan * i) / kBlocks);
  const frames = xs.map((x) => {
    const l = Math.hypot(1, slope(x));
    return { at: [x, 0, z(x)], z: [1 / l, 0, slope(x) / l], y: [-slope(x) / l, 0, 1 / l], x: [0, 1, 0] };
  });
  const ring = [[-kWide / 2, -depth_m / 2], [kWide / 2, -depth_m / 2], [kWide / 2, depth_m / 2], [-kWide / 2, depth_m / 2]];
  const world = (f, [u, v]) => [0, 1, 2].map((k) => f.at[k] + u * f.x[k] + v * f.y[k]);
  const name = (i) => (i === 0 ? "west" : i === kBlocks + 1 ? "east" : `b${i}`);
  const out = (f, by) => ({ ...f, at: f.at.map((v, k) => v + by * f.z[k]) });
  const solids = [[out(frames[0], -0.5), frames[0]], ...frames.slice(1).map((f, i) => [frames[i], f]), [frames[kBlocks], out(frames[kBlocks], 0.5)]];
  const points = [], triangles = [], owner = [], lines = [], lineOwner = [];
  solids.forEach(([a, b], i) => {
    const c = [...ring.map((p) => world(a, p)), ...ring.map((p) => world(b, p))];
    for (const face of [[0, 3, 2, 1], [4, 5, 6, 7], [0, 1, 5, 4], [1, 2, 6, 5], [2, 3, 7, 6], [3, 0, 4, 7]]) {
      const n = points.length;
      points.push(...face.map((k) => c[k]));
      triangles.push([n, n + 1, n + 2], [n, n + 2, n + 3]);
      owner.push(i, i);
    }
    for (const [p, q] of [[0, 1], [1, 2], [2, 3], [3, 0], [4, 5], [5, 6], [6, 7], [7, 4], [0, 4], [1, 5], [2, 6], [3, 7]]) {
      lines.push([...c[p], ...c[q]]);
      lineOwner.push(i);
    }
  });
  const supports = [{ name: "west", a: [-kSpan / 2, kWide / 2, 0], b: [-kSpan / 2, -kWide / 2, 0] }, { name: "east", a: [kSpan / 2, -kWide / 2, 0], b: [kSpan / 2, kWide / 2, 0] }];
  const walk = [], walkTriangles = [];
  xs.forEach((x, i) => {
    walk.push([x, 0.75, z(x) + depth_m], [x, -0.75, z(x) + depth_m]);
    if (i > 0) walkTriangles.push([2 * i - 2, 2 * i - 1, 2 * i + 1], [2 * i - 2, 2 * i + 1, 2 * i]);
  });
  const joints = frames.map((f, i) => ({ id: `${name(i)}|${name(i + 1)}`, a: i, b: i + 1, at: f.at, x: f.x, y: f.y, z: f.z, friction: 0.6, pad_m: 0, rings: [ring], depth_m }));
  const force = xs.map((x) => [H, 0, -kLoad * x + push_n]);
  const plane = force.map((F, i) => {
    const N = F[0] * frames[i].z[0] + F[2] * frames[i].z[2], A = kWide * depth_m;
    const e = shift_m;
    if (Math.abs(e) <= depth_m / 6) return [N / A, 0, (12 * N * e) / (A * depth_m * depth_m)];
    const c = 3 * (depth_m / 2 - Math.abs(e)), peak = (2 * N) / (kWide * c); // bears over c only
    return [peak - (peak / c) * (depth_m / 2), 0, (Math.sign(e) * peak) / c];
  });
  const peak = plane.map(([p, , py]) => p + Math.abs(py) * (depth_m / 2));
  const blocks = bytes({
    view: "blocks", of: 1, fresh: true, supports, joints,
    blocks: solids.map(([a, b], i) => ({ id: name(i), mass_kg: 500, at: a.at.map((v, k) => (v + b.at[k]) / 2), arm: i < 6 ? 0 : 1, course: i, fixed: i === 0 || i === kBlocks + 1, crown: false, volume_m3: 0.2 })),
    cases: [{ id: "dead", words: "its own weight", kind: "pattern", live: [] }, { id: "people", words: "people all over", kind: "pattern", live: [] }],
  }, { points: f32(points, 3), triangles: u32(triangles, 3), block: u32(owner), lines: f32(lines, 6), line_block: u32(lineOwner), walk: f32(walk, 3), walk_triangles: u32(walkTriangles, 3) });
  const proofHead = {
    view: "proof", of: 1, fresh: true, case: "dead", words: "its own weight", verdict: "stands", reason: "", load_factor: null, at_cap: false, friction_needed: 0.1,
    governing_joint: joints[3].id, residual_rel: 1e-9, peak_pa: Math.max(...peak), peak_joint: joints[0].id, flattening: 1.01, mechanism_words: "", reactions: [], verdicts: [],
  };
  const proof = (head = {}) => bytes({ ...proofHead, ...head }, {
    force: f32(force, 3), thrust_at: f32(frames.map((f) => world(f, [0, shift_m])), 3), pressure: f32(plane, 3), peak_pa: f32(peak),
    opening_m: f32(frames.map(() => 0)), closed_share: f32(frames.map(() => 1)), slipping: f32(frames.map(() => 0)), friction_used: f32(frames.map(() => 0.02)),
    move: f32(solids.map(() => [0, 0, 0, 0, 0, 0]), 6), pad_at: f32(frames.flatMap((f) => ring.map((p) => world(f, p))), 3),
    pad_pa: f32(plane.flatMap(([p, , py]) => ring.map(([, v]) => Math.max(0, p + py * v)))), pad_joint: u32(frames.flatMap((_, i) => ring.map(() => i))),
  });
  const side = (v) => xs.flatMap((x) => [[x, -kWide / 2, z(x) + v], [x, kWide / 2, z(x) + v]]);
  const net = xs.slice(1).flatMap((_, i) => [[2 * i, 2 * i + 2, 2 * i + 1], [2 * i + 1, 2 * i + 2, 2 * i + 3]]);
  const shape = bytes({ view: "shape", of: 1, fresh: true, rise_m, supports, edges_drawn: [], thrust_max_n: H, residual_rel: 1e-9 }, {
    vertices: f32(side(0), 3), upper: f32(side(depth_m / 2), 3), lower: f32(side(-depth_m / 2), 3), triangles: u32(net, 3),
    arm: { numbers: new Int32Array(net.length), width: 1 }, flow: f32(net.map(() => [1, 0]), 2), flow_strength: f32(net.map(() => 1)), phi: f32(net.map(() => [0, 0, 0]), 3),
    edges: u32([], 2), edge_force_n: f32([]), free_edge: { numbers: new Int32Array(0), width: 1 },
  });
  const ground = bytes({ view: "ground", of: 1, fresh: true, ties: [{ id: "west-east", from: [-4.5, 0, -0.3], to: [4.5, 0, -0.3], force_n: H, diameter_m: 0.02 }], footings: [] }, {});
  return { blocks, proof, shape, ground, H, peak: Math.max(...peak) };
}
