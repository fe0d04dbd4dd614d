// The blocks, each a body of its own, so that it can be away, moved, seen through or marked.

import { Box3, BufferAttribute, BufferGeometry, DoubleSide, FrontSide, Group, LineBasicMaterial, LineSegments, Matrix4, Mesh, MeshLambertMaterial, Quaternion, Vector3 } from "three";
import { blocksOf, type BlockHead } from "../heads";
import type { Sheaf } from "../sheaf";
import type { Palette } from "./palette";
import { clear } from "./pieces";

export interface Parts {
  positions: Float32Array;
  normals: Float32Array;
  index: Uint32Array;
  lines: Float32Array;
}

/** Cuts triangles and lines that are numbered by block (or part) into one list each. */
export function splitByBlock(
  points: Float32Array, triangles: Uint32Array, block: Uint32Array, lines: Float32Array, lineBlock: Uint32Array, count: number,
): Parts[] {
  const ofBlock: number[][] = Array.from({ length: count }, () => []);
  block.forEach((b, t) => ofBlock[b]?.push(t));
  const linesOf: number[][] = Array.from({ length: count }, () => []);
  lineBlock.forEach((b, l) => linesOf[b]?.push(l));
  // Per point the block that last used it, and its number there: no table for each block.
  const usedBy = new Int32Array(points.length / 3).fill(-1);
  const number = new Uint32Array(points.length / 3);
  return ofBlock.map((list, b) => {
    const index = new Uint32Array(list.length * 3);
    const own_points: number[] = [];
    list.forEach((t, i) => {
      for (let k = 0; k < 3; ++k) {
        const point = triangles[3 * t + k] as number;
        if (usedBy[point] !== b) {
          usedBy[point] = b;
          number[point] = own_points.length;
          own_points.push(point);
        }
        index[3 * i + k] = number[point] as number;
      }
    });
    const positions = new Float32Array(own_points.length * 3);
    own_points.forEach((point, i) => {
      for (let k = 0; k < 3; ++k) positions[3 * i + k] = points[3 * point + k] as number;
    });
    const own = new Float32Array((linesOf[b] as number[]).length * 6);
    (linesOf[b] as number[]).forEach((l, i) => own.set(lines.subarray(6 * l, 6 * l + 6), 6 * i));
    return { positions, normals: normalsOf(positions, index), index, lines: own };
  });
}
function normalsOf(positions: Float32Array, index: Uint32Array): Float32Array {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions, 3));
  geometry.setIndex(new BufferAttribute(index, 1));
  geometry.computeVertexNormals();
  return geometry.getAttribute("normal").array as Float32Array;
}

/** A small movement (shift and turn about the origin), made larger and kept rigid: about `centre`. */
export function movedBy(move: ArrayLike<number>, at: number, factor: number, centre: readonly [number, number, number]): Matrix4 {
  const c = new Vector3(...centre);
  const shift = new Vector3(move[at] ?? 0, move[at + 1] ?? 0, move[at + 2] ?? 0);
  const turn = new Vector3(move[at + 3] ?? 0, move[at + 4] ?? 0, move[at + 5] ?? 0);
  shift.add(turn.clone().cross(c)).multiplyScalar(factor);
  const angle = turn.length() * factor;
  const axis = turn.lengthSq() > 0 ? turn.normalize() : new Vector3(0, 0, 1);
  const q = new Quaternion().setFromAxisAngle(axis, angle);
  const out = new Matrix4().makeRotationFromQuaternion(q);
  const end = c.clone().add(shift).sub(c.clone().applyQuaternion(q));
  return out.setPosition(end);
}
/** Length of the shift of each block's centre, metres, for factor 1. */
export function shiftOf(move: ArrayLike<number>, b: number, centre: readonly [number, number, number]): Vector3 {
  const at = 6 * b;
  const turn = new Vector3(move[at + 3] ?? 0, move[at + 4] ?? 0, move[at + 5] ?? 0);
  return new Vector3(move[at] ?? 0, move[at + 1] ?? 0, move[at + 2] ?? 0).add(turn.cross(new Vector3(...centre)));
}

export type Look = "solid" | "glass" | "ghost" | "away";

export class Blocks {
  readonly group = new Group();
  readonly heads: BlockHead[];
  readonly box = new Box3();
  readonly outline: Float32Array; // corners of each block's box, those in the ground too
  private readonly each: { group: Group; mesh: Mesh; lines: LineSegments }[] = [];
  private readonly materials: { [name: string]: MeshLambertMaterial };
  private readonly lineMaterials: { [name: string]: LineBasicMaterial };
  private highlighted = new Set<number>();
  private looks: Look[] = [];

  constructor(readonly sheaf: Sheaf, palette: Palette) {
    this.heads = blocksOf(sheaf);
    const made = (name: "stone" | "chosen" | "earth", opacity: number): MeshLambertMaterial =>
      new MeshLambertMaterial({
        color: palette.of(name), transparent: opacity < 1, opacity, depthWrite: opacity >= 1, side: opacity < 1 ? FrontSide : DoubleSide,
        polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
      });
    this.materials = {
      solid: made("stone", 1), glass: made("stone", 0.22), ghost: made("stone", 0.07),
      fixed: made("earth", 0.5), chosen: made("chosen", 1), chosenGlass: made("chosen", 0.55),
    };
    const line = (opacity: number): LineBasicMaterial => new LineBasicMaterial({ color: palette.of("stone-edge"), transparent: opacity < 1, opacity });
    this.lineMaterials = { solid: line(0.75), glass: line(0.22), ghost: line(0.1) };
    const parts = splitByBlock(sheaf.f32("points"), sheaf.u32("triangles"), sheaf.u32("block"), sheaf.f32("lines"), sheaf.u32("line_block"), this.heads.length);
    const corners: number[] = [];
    parts.forEach((part, b) => corners.push(...this.add(part, b)));
    this.outline = new Float32Array(corners);
    this.setLooks(() => "solid");
  }
  private add(part: Parts, b: number): number[] {
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(part.positions, 3));
    geometry.setAttribute("normal", new BufferAttribute(part.normals, 3));
    geometry.setIndex(new BufferAttribute(part.index, 1));
    const mesh = new Mesh(geometry, this.materials["solid"]);
    mesh.userData["block"] = b;
    const edges = new BufferGeometry();
    edges.setAttribute("position", new BufferAttribute(part.lines, 3));
    const lines = new LineSegments(edges, this.lineMaterials["solid"]);
    const group = new Group();
    group.add(mesh, lines);
    group.matrixAutoUpdate = false;
    this.group.add(group);
    this.each.push({ group, mesh, lines });
    geometry.computeBoundingBox();
    const box = geometry.boundingBox;
    if (box === null || part.positions.length === 0) return [];
    if (!(this.heads[b] as BlockHead).fixed) this.box.union(box);
    const { min, max } = box;
    return [0, 1, 2, 3, 4, 5, 6, 7].flatMap((i) => [i & 1 ? max.x : min.x, i & 2 ? max.y : min.y, i & 4 ? max.z : min.z]);
  }
  setLooks(of: (b: number) => Look): void {
    this.looks = this.heads.map((_, b) => of(b));
    this.dress();
  }
  highlight(blocks: readonly number[]): void {
    this.highlighted = new Set(blocks);
    this.dress();
  }
  private dress(): void {
    this.each.forEach(({ group, mesh, lines }, b) => {
      const look = this.looks[b] ?? "solid";
      const chosen = this.highlighted.has(b);
      group.visible = look !== "away" || chosen;
      const name = chosen ? (look === "solid" ? "chosen" : "chosenGlass") : this.heads[b]?.fixed === true && look !== "away" ? "fixed" : look;
      mesh.material = this.materials[name] ?? (this.materials["ghost"] as MeshLambertMaterial);
      lines.material = this.lineMaterials[look === "away" ? "ghost" : look] as LineBasicMaterial;
    });
  }
  /** Null: as drawn. */
  move(of: ((b: number) => Matrix4) | null): void {
    this.each.forEach(({ group }, b) => {
      if (of === null) group.matrix.identity();
      else group.matrix.copy(of(b));
      group.matrixWorldNeedsUpdate = true;
    });
  }
  meshes(): Mesh[] {
    return this.each.filter((one) => one.group.visible).map((one) => one.mesh);
  }
  linesOf(b: number): Float32Array {
    return (this.each[b]?.lines.geometry.getAttribute("position").array as Float32Array | undefined) ?? new Float32Array(0);
  }
  dispose(): void {
    clear(this.group);
    for (const material of [...Object.values(this.materials), ...Object.values(this.lineMaterials)]) material.dispose();
  }
}
