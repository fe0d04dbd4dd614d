// The surface: plan and supports, net of forces, flow and phi.

import { BufferAttribute, BufferGeometry, DoubleSide, LineBasicMaterial, LineSegments, Mesh, MeshLambertMaterial } from "three";
import { kilonewtons, metres } from "../figures";
import { ringsOf, supportsOf } from "../heads";
import type { Sheaf } from "../sheaf";
import { flowStrokes, levelLines } from "./field";
import type { Palette } from "./palette";
import { emptyPiece, lineSegments, type Piece } from "./pieces";

export function surfacePiece(shape: Sheaf, palette: Palette, clear: boolean): Piece {
  const piece = emptyPiece();
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(shape.f32("vertices"), 3));
  geometry.setIndex(new BufferAttribute(shape.u32("triangles"), 1));
  geometry.computeVertexNormals();
  const material = new MeshLambertMaterial({
    color: palette.of("stone"), side: DoubleSide, transparent: clear, opacity: clear ? 0.35 : 1, depthWrite: !clear,
    polygonOffset: true, polygonOffsetFactor: 2, polygonOffsetUnits: 2,
  });
  const mesh = new Mesh(geometry, material);
  mesh.name = "surface";
  piece.group.add(mesh);
  return piece;
}

export function planPiece(shape: Sheaf, palette: Palette): Piece {
  const piece = emptyPiece();
  const lines: number[] = [];
  const supports = supportsOf(shape);
  const level = supports.length === 0 ? 0 : Math.min(...supports.flatMap((s) => [s.a[2], s.b[2]]));
  for (const ring of ringsOf(shape.head["edges_drawn"]))
    for (let i = 0; i + 1 < ring.length; ++i) {
      const [a, b] = [ring[i] as [number, number], ring[i + 1] as [number, number]];
      lines.push(a[0], a[1], level, b[0], b[1], level);
    }
  const bearing: number[] = [];
  for (const support of supports) {
    bearing.push(...support.a, ...support.b);
    const at = [0, 1, 2].map((k) => ((support.a[k] as number) + (support.b[k] as number)) / 2) as [number, number, number];
    const long = Math.hypot(support.b[0] - support.a[0], support.b[1] - support.a[1], support.b[2] - support.a[2]);
    piece.labels.push({ at, text: `${support.name}, ${metres(long)}`, weight: 2 });
  }
  piece.group.add(lineSegments(lines, palette.of("ink")), lineSegments(bearing, palette.of("ink")));
  piece.legend.push({ sign: "line", colour: "--ink", text: "free edges and supports as drawn" });
  return piece;
}

export function netPiece(shape: Sheaf, palette: Palette): Piece {
  const piece = emptyPiece();
  const vertices = shape.f32("vertices");
  const edges = shape.u32("edges");
  const force = shape.f32("edge_force_n");
  const most = force.reduce((m, f) => Math.max(m, Math.abs(f)), 0);
  if (most === 0) return piece;
  const positions = new Float32Array(edges.length * 3);
  const colours = new Float32Array(edges.length * 3);
  const [low, high, bad] = [palette.of("ramp-low"), palette.of("ramp-high"), palette.of("falls")];
  edges.forEach((vertex, i) => {
    positions.set(vertices.subarray(3 * vertex, 3 * vertex + 3), 3 * i);
    const f = force[i >> 1] ?? 0;
    const colour = f < -1e-6 * most ? bad : low.clone().lerp(high, Math.max(0, f) / most);
    colours.set([colour.r, colour.g, colour.b], 3 * i);
  });
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions, 3));
  geometry.setAttribute("color", new BufferAttribute(colours, 3));
  piece.group.add(new LineSegments(geometry, new LineBasicMaterial({ vertexColors: true })));
  piece.legend.push({ sign: "ramp", colour: "--force", text: `forces of the net, 0 to ${kilonewtons(most)} of pressing` });
  if (force.some((f) => f < -1e-6 * most)) piece.legend.push({ sign: "line", colour: "--falls", text: "an edge that pulls: stone cannot" });
  return piece;
}

export function flowPiece(shape: Sheaf, size_m: number, palette: Palette): Piece {
  const piece = emptyPiece();
  const triangles = shape.u32("triangles");
  const every = Math.max(1, Math.round(triangles.length / 3 / 500));
  const strokes = flowStrokes(shape.f32("vertices"), triangles, shape.f32("flow"), shape.f32("flow_strength"), size_m * 0.03, every);
  const lines = lineSegments(strokes, palette.of("force"));
  lines.renderOrder = 3;
  piece.group.add(lines);
  piece.legend.push({ sign: "arrow", colour: "--force", text: "the way the weight goes; longer: more of it" });
  return piece;
}

export function phiPiece(shape: Sheaf, size_m: number, palette: Palette): Piece {
  const piece = emptyPiece();
  const spacing = size_m > 30 ? 0.5 : size_m > 8 ? 0.25 : 0.1;
  const { lines, levels } = levelLines(shape.f32("vertices"), shape.u32("triangles"), shape.f32("phi"), spacing);
  const whole: number[] = [];
  const between: number[] = [];
  levels.forEach((level, i) => {
    const round = Math.abs(level - Math.round(level)) < 1e-6;
    (round ? whole : between).push(...lines.slice(6 * i, 6 * i + 6));
    if (round && level > 0.5 && !piece.labels.some((label) => label.text.startsWith(`${Math.round(level)} `) && near(label.at, lines, 6 * i, size_m * 0.12)))
      piece.labels.push({ at: [lines[6 * i] as number, lines[6 * i + 1] as number, lines[6 * i + 2] as number], text: `${Math.round(level)} m`, look: "quiet", weight: 0 });
  });
  piece.group.add(lineSegments(between, palette.of("ink"), 0.45), lineSegments(whole, palette.of("ink")));
  piece.legend.push({ sign: "line", colour: "--ink", text: `phi: metres along the flow from the support, every ${spacing} m; joints lie along these lines` });
  return piece;
}
function near(a: readonly [number, number, number], lines: number[], at: number, within: number): boolean {
  return Math.hypot(a[0] - (lines[at] ?? 0), a[1] - (lines[at + 1] ?? 0), a[2] - (lines[at + 2] ?? 0)) < within;
}
