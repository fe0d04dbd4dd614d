// Joints and their states, read out of the sheaves of `blocks` and of a proof or an answer.

import { isTable, type Json, type Sheaf } from "../sheaf";
import type { JointShape, JointState } from "./section_drawing";
import type { Ring } from "./section";

type Vec3 = readonly [number, number, number];

const number = (value: Json | undefined): number => (typeof value === "number" ? value : NaN);
const text = (value: Json | undefined): string => (typeof value === "string" ? value : typeof value === "number" ? String(value) : "");
const list = (value: Json | undefined): Json[] => (Array.isArray(value) ? value : []);

export function vec3(value: Json | undefined): Vec3 | null {
  const [x, y, z] = list(value).map((v) => number(v));
  return x !== undefined && y !== undefined && z !== undefined && Number.isFinite(x + y + z) ? [x, y, z] : null;
}

const ring = (value: Json): Ring =>
  list(value).flatMap((p): Ring => {
    const [x, y] = list(p).map((v) => number(v));
    return x !== undefined && y !== undefined && Number.isFinite(x + y) ? [[x, y]] : [];
  });

function nameOf(value: Json | undefined, blocks: readonly Json[]): string {
  if (typeof value !== "number") return text(value);
  const block = blocks[value];
  return isTable(block) ? text(block["id"]) : String(value);
}

/** All joints in the order of the arrays of a proof; a joint that cannot be read keeps its place as null. */
export function readJoints(blocks: Sheaf): (JointShape | null)[] {
  const named = list(blocks.head["blocks"]);
  return list(blocks.head["joints"]).map((joint) => {
    if (!isTable(joint)) return null;
    const at = vec3(joint["at"]), x = vec3(joint["x"]), y = vec3(joint["y"]), z = vec3(joint["z"]);
    if (!at || !x || !y || !z) return null;
    const pad = joint["pad_m"];
    return {
      id: text(joint["id"]), a: nameOf(joint["a"], named), b: nameOf(joint["b"], named),
      at, x, y, z, friction: number(joint["friction"]), pad_m: typeof pad === "number" ? pad : null,
      rings: list(joint["rings"]).map(ring).filter((r) => r.length > 2), depth_m: number(joint["depth_m"]),
    };
  });
}

const row3 = (numbers: Float32Array, i: number): Vec3 => [numbers[3 * i] ?? NaN, numbers[3 * i + 1] ?? NaN, numbers[3 * i + 2] ?? NaN];
const known = (v: Vec3): Vec3 | null => (v.every((n) => Number.isFinite(n)) ? v : null);

/** Of the joint `index` of the bridge; null where the sheaf holds nothing of it. */
export function readState(proof: Sheaf, index: number): JointState | null {
  if (index < 0 || index >= proof.rows("force")) return null;
  const one = (name: string): number => proof.f32(name)[index] ?? NaN;
  const force = known(row3(proof.f32("force"), index));
  const plane = known(row3(proof.f32("pressure"), index));
  const pads: JointState["pads"] = [];
  const owner = proof.u32("pad_joint"), at = proof.f32("pad_at"), pa = proof.f32("pad_pa");
  owner.forEach((joint, i) => {
    if (joint === index) pads.push({ at: row3(at, i), pa: pa[i] ?? 0 });
  });
  return {
    force: force ?? [0, 0, 0], thrust_at: force ? known(row3(proof.f32("thrust_at"), index)) : null,
    peak_pa: one("peak_pa"), pressure: plane ? { p: plane[0], px: plane[1], py: plane[2] } : null,
    opening_m: one("opening_m"), closed_share: one("closed_share"), slipping: one("slipping") > 0,
    friction_used: one("friction_used"), pads,
  };
}

export interface CaseName { id: string; words: string }
/** Cases whose words are alike are told apart by their names. */
export function readCases(blocks: Sheaf): CaseName[] {
  const cases = list(blocks.head["cases"]).flatMap((c) => (isTable(c) ? [{ id: text(c["id"]), words: text(c["words"]) || text(c["id"]) }] : []));
  return cases.map((c) => (cases.filter((other) => other.words === c.words).length > 1 ? { ...c, words: `${c.words} (${c.id})` } : c));
}

export interface Support { name: string; a: Vec3; b: Vec3 }
export function readSupports(sheaf: Sheaf): Support[] {
  return list(sheaf.head["supports"]).flatMap((s) => {
    if (!isTable(s)) return [];
    const a = vec3(s["a"]), b = vec3(s["b"]);
    return a && b ? [{ name: text(s["name"]), a, b }] : [];
  });
}

export const blockIds = (blocks: Sheaf): string[] => list(blocks.head["blocks"]).map((b) => (isTable(b) ? text(b["id"]) : ""));
export const headText = (sheaf: Sheaf, name: string): string => text(sheaf.head[name]);
export const headNumber = (sheaf: Sheaf, name: string): number | null => (typeof sheaf.head[name] === "number" ? (sheaf.head[name] as number) : null);
export const headWords = (sheaf: Sheaf, name: string): string[] => {
  const value = sheaf.head[name];
  return Array.isArray(value) ? value.map((v) => text(v)).filter((w) => w !== "") : text(value) === "" ? [] : [text(value)];
};
export const tieIds = (ground: Sheaf): { id: string; words: string }[] =>
  list(ground.head["ties"]).flatMap((t) => (isTable(t) ? [{ id: text(t["id"]), words: `${text(t["id"])} (holds ${(number(t["force_n"]) / 1000).toFixed(1)} kN)` }] : []));

/** The joints of the bridge that are left when some blocks are away, in the order of an answer's arrays. */
export const jointsLeft = (joints: readonly (JointShape | null)[], without: readonly string[]): (JointShape | null)[] =>
  joints.filter((j) => j === null || !(without.includes(j.a) || without.includes(j.b)));
