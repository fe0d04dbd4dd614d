// The joints, coloured by how hard they are pressed: the linear pressure without tension, exact at
// each point of the joint, because the shader cuts it at zero.

import { BufferAttribute, BufferGeometry, Color, DoubleSide, Mesh, ShaderMaterial, ShapeUtils, Vector2 } from "three";
import type { Point } from "../api";
import { megapascals } from "../figures";
import { numberOf, type JointHead } from "../heads";
import type { Sheaf } from "../sheaf";
import type { Palette } from "./palette";
import { emptyPiece, lineSegments, type Piece } from "./pieces";

export function jointPoint(joint: JointHead, x: number, y: number): Point {
  const { at, x: u, y: v } = joint;
  return [at[0] + x * u[0] + y * v[0], at[1] + x * u[1] + y * v[1], at[2] + x * u[2] + y * v[2]];
}

/** Triangles over the joint's rings (the outer first, holes after it): x, y in its frame. */
export function jointTriangles(joint: JointHead): [number, number][] {
  let made = kMade.get(joint);
  if (made === undefined) kMade.set(joint, (made = triangulated(joint)));
  return made;
}
// Another case has the same joints.
const kMade = new WeakMap<JointHead, [number, number][]>();

function triangulated(joint: JointHead): [number, number][] {
  const out: [number, number][] = [];
  const rings = joint.rings.map((ring) => ring.map(([x, y]) => new Vector2(x, y)));
  const used = new Set<number>();
  rings.forEach((ring, i) => {
    if (used.has(i) || ring.length < 3) return;
    const holes = rings.filter((other, k) => {
      if (k === i || other.length < 3 || used.has(k) || ShapeUtils.isClockWise(other) === ShapeUtils.isClockWise(ring)) return false;
      return inside(other[0] as Vector2, ring) && used.add(k) !== undefined;
    });
    if (ShapeUtils.isClockWise(ring)) ring.reverse();
    const all = [ring, ...holes].flat();
    for (const face of ShapeUtils.triangulateShape(ring, holes))
      for (const corner of face) {
        const at = all[corner];
        if (at !== undefined) out.push([at.x, at.y]);
      }
  });
  return out;
}
function inside(point: Vector2, ring: Vector2[]): boolean {
  let odd = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length] as Vector2;
    if (a.y > point.y !== b.y > point.y && point.x < ((b.x - a.x) * (point.y - a.y)) / (b.y - a.y) + a.x) odd = !odd;
  });
  return odd;
}

const kVertex = `attribute float pressure; varying float vPressure;
void main() { vPressure = pressure; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`;
const kFragment = `uniform vec3 low; uniform vec3 high; uniform vec3 none; uniform float most; varying float vPressure;
void main() {
  float share = clamp(vPressure / most, 0.0, 1.0);
  vec3 colour = vPressure <= 0.0 ? none : mix(low, high, share);
  gl_FragColor = vec4(colour, 1.0);
  #include <colorspace_fragment>
}`;

export function padsPiece(joints: readonly JointHead[], proof: Sheaf, palette: Palette): Piece {
  const piece = emptyPiece();
  const plane = proof.f32("pressure");
  if (!plane.some(Number.isFinite)) return piece;
  const peaks = proof.f32("peak_pa");
  let most = 0;
  peaks.forEach((peak) => (most = Number.isFinite(peak) ? Math.max(most, peak) : most));
  if (most === 0) most = numberOf(proof.head["peak_pa"], 1);
  const positions: number[] = [];
  const pressures: number[] = [];
  const rims: number[] = [];
  joints.forEach((joint, j) => {
    const [p, px, py] = [plane[3 * j] ?? NaN, plane[3 * j + 1] ?? NaN, plane[3 * j + 2] ?? NaN];
    for (const [x, y] of jointTriangles(joint)) {
      positions.push(...jointPoint(joint, x, y));
      pressures.push(Number.isFinite(p) ? p + px * x + py * y : -1);
    }
    for (const ring of joint.rings) ring.forEach((a, i) => rims.push(...jointPoint(joint, ...a), ...jointPoint(joint, ...(ring[(i + 1) % ring.length] as [number, number]))));
  });
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(new Float32Array(positions), 3));
  geometry.setAttribute("pressure", new BufferAttribute(new Float32Array(pressures), 1));
  const uniform = (colour: Color): { value: Color } => ({ value: colour });
  const material = new ShaderMaterial({
    vertexShader: kVertex, fragmentShader: kFragment, side: DoubleSide,
    uniforms: { low: uniform(palette.of("ramp-low")), high: uniform(palette.of("ramp-high")), none: uniform(palette.of("quiet")), most: { value: most } },
  });
  const mesh = new Mesh(geometry, material);
  mesh.name = "joints";
  piece.group.add(mesh, lineSegments(rims, palette.of("stone-edge"), 0.6));
  const worst = peaks.indexOf(Math.max(...peaks.filter(Number.isFinite)));
  const joint = joints[worst];
  if (joint !== undefined) piece.labels.push({ at: joint.at, text: megapascals(peaks[worst] ?? 0), look: "force", weight: 4 });
  piece.legend.push({ sign: "ramp", colour: "--force", text: `pressure in the joints, 0 to ${megapascals(most)}` });
  piece.legend.push({ sign: "patch", colour: "--quiet", text: "part of a joint that does not bear" });
  return piece;
}
