// What the picture begins with, and what makes it begin again.

import { BufferAttribute, BufferGeometry, DoubleSide, Mesh, MeshLambertMaterial, Vector3, type Box3 } from "three";
import type { Sheaf } from "../sheaf";
import type { Lodge } from "../state";
import type { Point } from "./structure";

/** Progress of the work, notes and the like change nothing in the picture. */
export function concerns(now: Lodge, before: Lodge): boolean {
  return (
    now.moment !== before.moment || now.shows !== before.shows || now.caseId !== before.caseId || now.chosen !== before.chosen ||
    now.printShare !== before.printShare || now.state?.parts !== before.state?.parts
  );
}

export function walkMesh(sheaf: Sheaf): Mesh | null {
  if (sheaf.rows("walk_triangles") === 0) return null;
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(sheaf.f32("walk"), 3));
  geometry.setIndex(new BufferAttribute(sheaf.u32("walk_triangles"), 1));
  geometry.computeVertexNormals();
  return new Mesh(geometry, new MeshLambertMaterial({ side: DoubleSide, transparent: true, opacity: 0.6 }));
}

/** From the side of the longest support line's end, a little above. */
export function firstView(box: Box3, supports: readonly { a: Point; b: Point }[]): Vector3 {
  const size = box.getSize(new Vector3());
  // A single span is looked at square to it; anything wider from a corner.
  if (supports.length === 2) return size.x > size.y ? new Vector3(0.35, -1, 0.28) : new Vector3(1, -0.35, 0.28);
  return new Vector3(0.62, -1, 0.42);
}
