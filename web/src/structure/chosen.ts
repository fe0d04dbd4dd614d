// What is chosen: the rim of a joint, drawn through everything.

import { Mesh, type MeshBasicMaterial } from "three";
import { jointWords } from "../figures";
import type { JointHead } from "../heads";
import { jointPoint } from "./pads";
import type { Palette } from "./palette";
import { emptyPiece, flatMesh, pushBar, type Piece } from "./pieces";

export function chosenJoints(joints: readonly JointHead[], size_m: number, palette: Palette): Piece {
  const piece = emptyPiece();
  for (const [name, r, order] of [["ink", 0.0026, 8], ["chosen", 0.0015, 9]] as const) {
    const out: number[] = [];
    for (const joint of joints)
      for (const ring of joint.rings)
        ring.forEach((a, i) => {
          const b = ring[(i + 1) % ring.length] as [number, number];
          pushBar(out, jointPoint(joint, ...a), jointPoint(joint, ...b), size_m * r, size_m * r, 5);
        });
    const mesh: Mesh = flatMesh(out, palette.of(name));
    (mesh.material as MeshBasicMaterial).depthTest = false;
    (mesh.material as MeshBasicMaterial).transparent = true;
    mesh.renderOrder = order;
    piece.group.add(mesh);
  }
  for (const joint of joints) piece.labels.push({ at: joint.at, text: jointWords(joint.id), look: "chosen", weight: 50 });
  return piece;
}
