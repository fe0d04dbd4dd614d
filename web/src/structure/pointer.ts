// What is under the pointer: blocks, joints, the walking surface, the ground.

import { Plane, Raycaster, Vector3, type Intersection, type Mesh, type Object3D } from "three";
import type { JointHead } from "../heads";
import type { Blocks } from "./blocks";
import type { Canvas } from "./canvas";
import type { Picked, Point } from "./structure";

export interface Things {
  blocks: Blocks | null;
  joints: readonly JointHead[];
  /** Joints drawn as faces; null: they are inside the blocks. */
  faces: Object3D | null;
  walk: Mesh | null;
  surface: Object3D | null;
}
type Event_ = { clientX: number; clientY: number };

export class Pointer {
  constructor(
    private readonly canvas: Canvas,
    private readonly things: () => Things,
  ) {}
  block(event: Event_): Picked | null {
    const { blocks } = this.things();
    if (blocks === null) return null;
    const hit = first(this.canvas.rayAt(event), blocks.meshes());
    if (hit === null) return null;
    const index = hit.object.userData["block"] as number;
    return { kind: "block", id: blocks.heads[index]?.id ?? "", index, at: point(hit.point) };
  }
  /** The joint that is touched, or the one nearest to where a block is touched. */
  joint(event: Event_): Picked | null {
    const { joints, faces } = this.things();
    const touched = faces === null ? null : first(this.canvas.rayAt(event), [faces]);
    const block = touched === null ? this.block(event) : null;
    const at = touched !== null ? point(touched.point) : (block?.at ?? null);
    if (at === null) return null;
    const index = nearestJoint(joints, at, block?.id ?? null);
    return index < 0 ? null : { kind: "joint", id: joints[index]?.id ?? "", index, at };
  }
  support(event: Event_): Picked | null {
    const block = this.block(event);
    const head = block === null ? undefined : this.things().blocks?.heads[block.index];
    return block !== null && head?.fixed === true ? { ...block, kind: "support" } : null;
  }
  surface(event: Event_): Picked | null {
    const { surface } = this.things();
    const hit = surface === null ? null : first(this.canvas.rayAt(event), [surface]);
    return hit === null ? null : { kind: "surface", id: "", index: -1, at: point(hit.point) };
  }
  deck(event: Event_): Point | null {
    return this.onDeck(this.canvas.rayAt(event));
  }
  deckAt(x: number, y: number): Point | null {
    return this.onDeck(new Raycaster(new Vector3(x, y, 1e3), new Vector3(0, 0, -1)));
  }
  private onDeck(ray: Raycaster): Point | null {
    const { walk, blocks } = this.things();
    const hit = walk !== null ? first(ray, [walk]) : blocks === null ? null : first(ray, blocks.meshes());
    return hit === null ? null : point(hit.point);
  }
  ground(event: Event_, level_m: number): Point | null {
    const hit = this.canvas.rayAt(event).ray.intersectPlane(new Plane(new Vector3(0, 0, 1), -level_m), new Vector3());
    return hit === null ? null : point(hit);
  }
}

/** By the distance to the joint's plane among those of the block, or of all. */
export function nearestJoint(joints: readonly JointHead[], at: Point, block: string | null): number {
  let best = -1;
  let least = Infinity;
  joints.forEach((joint, j) => {
    if (block !== null && joint.a !== block && joint.b !== block) return;
    const d = [at[0] - joint.at[0], at[1] - joint.at[1], at[2] - joint.at[2]] as const;
    const off = Math.abs(d[0] * joint.z[0] + d[1] * joint.z[1] + d[2] * joint.z[2]) + (block === null ? Math.hypot(...d) : 0.05 * Math.hypot(...d));
    if (off < least) [best, least] = [j, off];
  });
  return best;
}
function first(ray: Raycaster, things: Object3D[]): Intersection | null {
  return ray.intersectObjects(things, true).find((hit) => (hit.object as Partial<Mesh>).isMesh === true) ?? null;
}
function point(v: Vector3): Point {
  return [v.x, v.y, v.z];
}
