// The thrust through the blocks: from the point in one joint to that in the next, as thick as the
// force. In a block with more than two joints all go to one point between them.

import type { MeshBasicMaterial } from "three";
import type { Point } from "../api";
import { jointWords, kilonewtons } from "../figures";
import type { JointHead } from "../heads";
import type { Sheaf } from "../sheaf";
import type { Palette } from "./palette";
import { emptyPiece, flatMesh, pushBar, type Piece } from "./pieces";

export interface ThrustPart {
  a: Point;
  b: Point;
  force_a: number;
  force_b: number;
}

/** Per joint the size of its force, N; NaN where nothing goes through. */
export function forcesOf(proof: Sheaf): number[] {
  const force = proof.f32("force");
  const at = proof.f32("thrust_at");
  return Array.from({ length: force.length / 3 }, (_, j) => {
    const size = Math.hypot(force[3 * j] ?? NaN, force[3 * j + 1] ?? NaN, force[3 * j + 2] ?? NaN);
    return Number.isFinite(at[3 * j] ?? NaN) && size > 1e-6 ? size : NaN;
  });
}

export function thrustParts(joints: readonly JointHead[], thrust_at: Float32Array, forces: readonly number[]): ThrustPart[] {
  const ofBlock = new Map<string, number[]>();
  joints.forEach((joint, j) => {
    if (!Number.isFinite(forces[j] ?? NaN)) return;
    for (const block of [joint.a, joint.b]) {
      const list = ofBlock.get(block);
      if (list === undefined) ofBlock.set(block, [j]);
      else list.push(j);
    }
  });
  const at = (j: number): Point => [thrust_at[3 * j] ?? 0, thrust_at[3 * j + 1] ?? 0, thrust_at[3 * j + 2] ?? 0];
  const parts: ThrustPart[] = [];
  for (const list of ofBlock.values()) {
    if (list.length < 2) continue;
    const [first, second] = list as [number, number];
    if (list.length === 2) {
      parts.push({ a: at(first), b: at(second), force_a: forces[first] as number, force_b: forces[second] as number });
      continue;
    }
    const sum = list.reduce((s, j) => s + (forces[j] as number), 0);
    const meet = [0, 1, 2].map((k) => list.reduce((s, j) => s + ((forces[j] as number) / sum) * (at(j)[k] as number), 0)) as unknown as Point;
    for (const j of list) parts.push({ a: at(j), b: meet, force_a: forces[j] as number, force_b: forces[j] as number });
  }
  return parts;
}

export function thrustPiece(joints: readonly JointHead[], proof: Sheaf, size_m: number, palette: Palette): Piece {
  const piece = emptyPiece();
  const forces = forcesOf(proof);
  const most = forces.reduce((m, f) => (f > m ? f : m), 0);
  if (most === 0) return piece;
  const thickest = size_m * 0.006;
  const radius = (force: number): number => Math.max(thickest * 0.12, (thickest * force) / most);
  const out: number[] = [];
  for (const part of thrustParts(joints, proof.f32("thrust_at"), forces)) pushBar(out, part.a, part.b, radius(part.force_a), radius(part.force_b));
  const mesh = flatMesh(out, palette.of("force"));
  // Over the blocks it goes through, or it could not be read.
  const material = mesh.material as MeshBasicMaterial;
  material.depthTest = false;
  material.transparent = true;
  mesh.renderOrder = 5;
  piece.group.add(mesh);
  const largest = forces.indexOf(most);
  const at = proof.f32("thrust_at");
  piece.labels.push({ at: [at[3 * largest] ?? 0, at[3 * largest + 1] ?? 0, at[3 * largest + 2] ?? 0], text: kilonewtons(most), look: "force", weight: 3 });
  piece.legend.push({ sign: "line", colour: "--force", text: `thrust, as thick as the force: at most ${kilonewtons(most)} (${jointWords(joints[largest]?.id ?? "?")})` });
  return piece;
}
