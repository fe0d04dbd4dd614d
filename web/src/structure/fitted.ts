// Which joint and block of the bridge each row of a proof is: an answer may lack blocks.

import { numbersOf, type BlockHead, type JointHead } from "../heads";
import type { Sheaf } from "../sheaf";

export interface Fitted {
  joints: JointHead[]; // per row of the proof
  rows: number[]; // per block of the bridge: its row; -1: not there
}
/** Null where the proof is of other blocks than these. */
export function fitProof(blocks: readonly BlockHead[], joints: readonly JointHead[], proof: Sheaf): Fitted | null {
  const rows = blocks.map((_, b) => b);
  const given = proof.head["block_of"];
  if (Array.isArray(given)) {
    rows.fill(-1);
    numbersOf(given).forEach((b, row) => (rows[b] = row));
  }
  const there = new Set(blocks.filter((_, b) => (rows[b] ?? -1) >= 0).map((block) => block.id));
  const left = joints.filter((joint) => there.has(joint.a) && there.has(joint.b));
  return proof.rows("force") === left.length ? { joints: left, rows } : null;
}
