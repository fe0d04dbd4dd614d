// A made-up arch of nine blocks as the server would send it, for tests of the page only: shapes are
// right, forces are not worked out. Its own writer of sheaves, so that it also checks the reader.

const kKinds = { f32: Float32Array, u32: Uint32Array, i32: Int32Array };

export function sheaf(head, arrays = {}) {
  const listed = {};
  let at = 0;
  const parts = Object.entries(arrays).map(([name, [type, width, list]]) => {
    const bytes = Buffer.from(kKinds[type].from(list.flat(Infinity)).buffer);
    listed[name] = { type, at, count: bytes.length / 4, width };
    const padded = Buffer.concat([bytes, Buffer.alloc((8 - (bytes.length % 8)) % 8)]);
    at += padded.length;
    return padded;
  });
  const text = Buffer.from(JSON.stringify({ ...head, arrays: listed }));
  const first = Buffer.alloc(8);
  first.write("SKB1", "latin1");
  first.writeUInt32LE(text.length, 4);
  const top = Buffer.concat([first, text]);
  return Buffer.concat([top, Buffer.alloc((8 - (top.length % 8)) % 8), ...parts]);
}

/** The same bytes under a head that is changed in part. */
export function withHead(bytes, change) {
  const end = 8 + bytes.readUInt32LE(4);
  const head = JSON.parse(bytes.subarray(8, end).toString());
  const text = Buffer.from(JSON.stringify({ ...head, ...change(head) }));
  const top = Buffer.concat([bytes.subarray(0, 4), Buffer.alloc(4), text]);
  top.writeUInt32LE(text.length, 4);
  return Buffer.concat([top, Buffer.alloc((8 - (top.length % 8)) % 8), bytes.subarray(end + ((8 - (end % 8)) % 8))]);
}

const n = 9, radius = 5, depth = 0.4, wide = 1.6, open = 0.9;
const angle = (i) => -open + (2 * open * i) / n;
const on = (a, r, y) => [r * Math.sin(a), y, r * Math.cos(a) - radius * Math.cos(open)];
const ids = ["ground-left", "ground-right", ...Array.from({ length: n }, (_, i) => `v-${i + 1}`)];

function corners(i) {
  const [a, b] = i === -1 ? [angle(0) - 0.1, angle(0)] : i === n ? [angle(n), angle(n) + 0.1] : [angle(i), angle(i + 1)];
  const out = [];
  for (const y of [-wide / 2, wide / 2]) for (const [t, r] of [[a, radius], [b, radius], [b, radius + depth], [a, radius + depth]]) out.push(on(t, r, y));
  return out;
}
const kQuads = [[0, 1, 2, 3], [7, 6, 5, 4], [0, 4, 5, 1], [1, 5, 6, 2], [2, 6, 7, 3], [3, 7, 4, 0]];
const middle = (points) => [0, 1, 2].map((k) => points.reduce((s, p) => s + p[k], 0) / points.length);

export const order = [-1, n, ...Array.from({ length: n }, (_, i) => i)]; // places of the blocks in the head

export function blocks() {
  const points = [], triangles = [], block = [], lines = [], lineBlock = [];
  order.forEach((place, b) => {
    const c = corners(place);
    for (const quad of kQuads) {
      const at = points.length;
      for (const k of quad) points.push(c[k]);
      triangles.push([at, at + 1, at + 2], [at, at + 2, at + 3]);
      block.push(b, b);
      quad.forEach((k, i) => (lines.push([c[k], c[quad[(i + 1) % 4]]]), lineBlock.push(b)));
    }
  });
  const head = {
    view: "blocks", of: 1, fresh: true,
    blocks: order.map((place, b) => ({ id: ids[b], mass_kg: 400, at: middle(corners(place)), arm: 0, course: b, fixed: b < 2, crown: place === 4, volume_m3: 0.2 })),
    joints: joints(), supports: supports(),
    cases: [
      { id: "dead", words: "weight", kind: "pattern", live: [] },
      { id: "crowd", words: "weight, people on the left", kind: "pattern", live: [{ at: on(-0.3, radius + depth, 0), force: [0, 0, -3000] }] },
    ],
  };
  const walk = [], walkTriangles = [];
  for (let i = 0; i <= 2 * n; ++i) for (const y of [-wide / 2, wide / 2]) walk.push(on(-open + (open * i) / n, radius + depth + 0.1, y));
  for (let i = 0; i < 2 * n; ++i) walkTriangles.push([2 * i, 2 * i + 1, 2 * i + 2], [2 * i + 1, 2 * i + 3, 2 * i + 2]);
  return sheaf(head, {
    points: ["f32", 3, points], triangles: ["u32", 3, triangles], block: ["u32", 1, block],
    lines: ["f32", 6, lines], line_block: ["u32", 1, lineBlock], walk: ["f32", 3, walk], walk_triangles: ["u32", 3, walkTriangles],
  });
}
function joints() {
  return Array.from({ length: n + 1 }, (_, j) => {
    const a = angle(j);
    const [from, to] = [j === 0 ? 0 : j + 1, j === n ? 1 : j + 2];
    return {
      id: `${ids[from]}|${ids[to]}`, a: from, b: to, at: on(a, radius + depth / 2, 0),
      x: [0, 1, 0], y: [Math.sin(a), 0, Math.cos(a)], z: [Math.cos(a), 0, -Math.sin(a)], friction: 0.6, pad_m: 0.008,
      rings: [[[-wide / 2, -depth / 2], [wide / 2, -depth / 2], [wide / 2, depth / 2], [-wide / 2, depth / 2]]], depth_m: depth,
    };
  });
}
const supports = () => [
  { name: "left", a: on(-open, radius, -wide / 2), b: on(-open, radius, wide / 2) },
  { name: "right", a: on(open, radius, wide / 2), b: on(open, radius, -wide / 2) },
];

export function proof(id) {
  const falls = id === "crowd";
  const force = [], at = [], pressure = [], peak = [], moves = [], mechanism = [];
  joints().forEach((joint, j) => {
    const size = 30000 + 1000 * Math.abs(j - n / 2);
    force.push(joint.z.map((k) => k * size));
    at.push(joint.at.map((k, i) => k + joint.y[i] * 0.03 * Math.sin(j)));
    pressure.push([size / (wide * depth), 0, 2e5 * Math.sin(j)]);
    peak.push(size / (wide * depth) + 0.2 * 2e5);
  });
  order.forEach((place, b) => {
    moves.push(b < 2 ? Array(6).fill(0) : [0, 0, -1e-4 * (5 - Math.abs(place - 4)), 0, 0, 0]);
    mechanism.push(b < 2 ? Array(6).fill(0) : [0, 0, place < 4 ? -1 : 1, 0, place < 4 ? 0.2 : -0.2, 0]);
  });
  const verdicts = [{ id: "dead", verdict: "stands", load_factor: null, words: "weight" }, { id: "crowd", verdict: "falls", load_factor: 0.8, words: "weight, people on the left" }];
  return sheaf(
    {
      view: "proof", case: id, words: id === "dead" ? "weight" : "weight, people on the left", verdict: falls ? "falls" : "stands", reason: "", load_factor: falls ? 0.8 : null,
      at_cap: false, friction_needed: 0.1, governing_joint: "v-1|v-2", residual_rel: 1e-12, peak_pa: Math.max(...peak), peak_joint: "v-1|v-2", flattening: 1, mechanism_words: falls ? "hinges at v-1 | v-2" : "", reactions: [], verdicts,
    },
    {
      force: ["f32", 3, force], thrust_at: ["f32", 3, at], pressure: ["f32", 3, pressure], peak_pa: ["f32", 1, peak], move: ["f32", 6, moves],
      ...(falls ? { mechanism: ["f32", 6, mechanism] } : {}),
    },
  );
}

export function shape() {
  const vertices = [], triangles = [], phi = [], flow = [], strength = [], arm = [], edges = [];
  const m = 24;
  for (let i = 0; i <= m; ++i) for (const y of [-wide / 2, wide / 2]) vertices.push(on(-open + (2 * open * i) / m, radius + depth / 2, y));
  const along = (v) => Math.min(v >> 1, m - (v >> 1)) * ((2 * open * radius) / m);
  for (let i = 0; i < m; ++i)
    for (const t of [[2 * i, 2 * i + 1, 2 * i + 2], [2 * i + 1, 2 * i + 3, 2 * i + 2]]) {
      triangles.push(t);
      phi.push(t.map(along));
      flow.push([i < m / 2 ? -1 : 1, 0]);
      strength.push(1 + Math.abs(i - m / 2));
      arm.push(i < m / 2 ? 0 : 1);
    }
  for (let i = 0; i < m; ++i) edges.push([2 * i, 2 * i + 2], [2 * i + 1, 2 * i + 3]);
  const head = { view: "shape", of: 1, fresh: true, rise_m: 1.9, supports: supports(), edges_drawn: [[-1, 1].map((s) => [s * radius * Math.sin(open), -wide / 2]), [-1, 1].map((s) => [s * radius * Math.sin(open), wide / 2])], thrust_max_n: 35000, residual_rel: 1e-12 };
  return sheaf(head, {
    vertices: ["f32", 3, vertices], triangles: ["u32", 3, triangles], arm: ["i32", 1, arm], flow: ["f32", 2, flow], flow_strength: ["f32", 1, strength],
    phi: ["f32", 3, phi], edges: ["u32", 2, edges], edge_force_n: ["f32", 1, edges.map((_, i) => 1000 + i)], free_edge: ["i32", 1, edges.map(() => 0)],
  });
}
export function ground() {
  const box = (x) => [-0.6, 0.6].flatMap((z) => [[x - 0.5, -1, z - 0.8], [x + 0.5, -1, z - 0.8], [x + 0.5, 1, z - 0.8], [x - 0.5, 1, z - 0.8]]);
  const x = radius * Math.sin(open);
  return sheaf({ view: "ground", of: 1, fresh: true, ties: [{ id: "left-right", from: [-x, 0, -0.5], to: [x, 0, -0.5], force_n: 24000, diameter_m: 0.02 }], footings: [{ support: "left", corners: box(-x), share: 0.7 }, { support: "right", corners: box(x), share: 1.1 }] });
}
const seatsOf = (count) => Array.from({ length: count }, (_, i) => i);
export function stages() {
  const placed = [2, 10, 3, 9, 4, 8, 5, 7, 6];
  const list = [];
  const add = (what, words, blocks, seats) => list.push({ step: list.length + 1, what, words, verdict: "stands", blocks: [0, 1, ...blocks], seats: seatsOf(seats), crown_drop_m: 0, opening_m: 0, tie_n: 100 * list.length, people: what !== "lower" && what !== "raise", lowered_m: what === "lower" ? 0.0004 : what === "raise" ? -0.0001 : 0 });
  placed.forEach((b, i) => add("place", ids[b], placed.slice(0, i + 1), 9));
  add("lower", "row 1 of the feet", placed, 4);
  add("clear", "the centring taken away", placed, 0);
  add("lay", "walkway", placed, 0);
  add("unload", "walkway", placed, 0);
  add("raise", "all feet alike", placed, 9);
  for (let i = placed.length - 1; i >= 0; --i) add("take down", ids[placed[i]], placed.slice(0, i), 9);
  return sheaf({ view: "stages", of: 1, fresh: true, stages: list, key_stage: 8 });
}
export function centring() {
  const seats = Array.from({ length: n }, (_, i) => ({ at: on((angle(i) + angle(i + 1)) / 2, radius, 0), block: i + 2 }));
  const points = [[-3, -0.5, -0.5], [3, -0.5, -0.5], [0, -0.5, 1.6], [-3, 0.5, -0.5], [3, 0.5, -0.5], [0, 0.5, 1.6]];
  return sheaf({ view: "centring", parts: [{ id: "R1", kind: "rib" }, { id: "R2", kind: "rib" }], seats, feet: [], checks: [] }, {
    points: ["f32", 3, points], triangles: ["u32", 3, [[0, 1, 2], [3, 4, 5]]], part: ["u32", 1, [0, 1]], lines: ["f32", 6, [[points[0], points[1]]]], line_part: ["u32", 1, [0]],
  });
}
export function layers(block) {
  const tips = [], time = [], layer = [], width = [], axis = [];
  for (let l = 0; l < 6; ++l)
    for (let k = 0; k <= 16; ++k) {
      tips.push([0.3 * Math.cos((k * Math.PI) / 8), 0.2 * Math.sin((k * Math.PI) / 8), 0.02 * (l + 1)]);
      time.push(time.length * 0.8);
      layer.push(l);
      width.push(k === 0 ? 0 : 0.03);
      axis.push([0, 0, 1]);
    }
  return sheaf({ view: "layers", block, printable: true, reason: "", way: "a", on_table: "on its bed", checks: [], layers: Array(6).fill({}) }, {
    tips: ["f32", 3, tips], time_s: ["f32", 1, time], layer: ["u32", 1, layer], width_m: ["f32", 1, width], axis: ["f32", 3, axis],
  });
}
export function survey() {
  return sheaf({ view: "survey", marks: [{ id: "m1", drawn: [0, 0, 2], found: [0.003, 0, 1.996], off_m: 0.005 }], packers: [{ joint: "v-1|v-2", at: on(angle(1), radius, 0), thickness_m: 0.003, stock: true }], table: [], words: "as found" }, {
    move: ["f32", 6, order.map((_, b) => [0.001 * b, 0, -0.001, 0, 0, 0])],
  });
}

export const state = (change = {}) => ({
  name: "sample", title: "Sample Arch", file: "brief.toml", folder: "x", revision: 1, saved: true, undo: false, redo: false, busy: null, daybook: false,
  parts: Object.fromEntries(["shape", "blocks", "proof", "whole"].map((part) => [part, { of: 1, fresh: true, failed: "", took_s: 1 }])), ...change,
});
export const findings = () => ({
  of: 1, fresh: true,
  list: [
    { id: "case-crowd", weight: 0, share: 1.25, says: "It falls under people on the left: 0.80 times the load is all it takes.", place: { kind: "case", id: "crowd", at: null }, moment: "walked" },
    { id: "foot", weight: 1, share: 0.93, says: "Footing right is near its limit. <b>Not bold</b>", place: { kind: "foot", id: "right", at: [3.9, 0, -0.5] }, moment: "footings" },
    { id: "stage", weight: 1, share: 0.85, says: "Stage 4 is near the limit of its seats.", place: { kind: "stage", id: "4", at: null }, moment: "stage 4" },
    { id: "joint", weight: 2, share: null, says: "Joint v-4 | v-5 was not checked.", place: { kind: "joint", id: "v-4|v-5", at: null }, moment: "struck" },
    { id: "fine", weight: 3, share: 0.1, says: "Friction holds eight times over.", place: { kind: "none", id: "", at: null }, moment: "struck" },
  ],
});
export function everything() {
  const views = new Map([["shape", shape()], ["blocks", blocks()], ["proof", proof("dead")], ["proof?case=dead", proof("dead")], ["proof?case=crowd", proof("crowd")], ["ground", ground()], ["stages", stages()], ["centring", centring()], ["layers", layers("v-1")], ["layers?block=v-3", layers("v-3")], ["survey", survey()]]);
  const json = { "/api/state": state(), "/api/findings": findings(), "/api/keys": { revision: 1, groups: [] }, "/api/node": { vertex: 5, at: [0, 0, 1.9], support: null, load_n: 300, forces: [{ kind: "edge", force: [1000, 0, 150] }, { kind: "edge", force: [-1000, 0, 150] }, { kind: "load", force: [0, 0, -300] }], corners: [[0, 0, 0], [1000, 0, 150], [0, 0, 300], [0, 0, 0]], closure_rel: 0 } };
  return { views, json };
}
