// The heads of the views, as far as the page draws them; what is missing or odd is left out.

import type { Point } from "./api";
import { isTable, type Json, type Sheaf } from "./sheaf";

export interface BlockHead {
  id: string;
  mass_kg: number;
  at: Point;
  arm: string;
  course: number;
  fixed: boolean;
  crown: boolean;
}
export interface JointHead {
  id: string;
  a: string;
  b: string;
  at: Point;
  x: Point;
  y: Point;
  z: Point;
  rings: [number, number][][];
}
export interface SupportHead {
  name: string;
  a: Point;
  b: Point;
}
export interface CaseHead {
  id: string;
  words: string;
  kind: string;
  live: { at: Point; force: Point }[];
}
export interface StageHead {
  step: number;
  what: string; // empty where the server does not say
  words: string;
  verdict: string;
  blocks: number[];
  seats: number[];
  crown_drop_m: number;
  opening_m: number;
  tie_n: number;
  people: boolean; // it was tried with people on it
  lowered_m: number; // of the feet moved in this step since the blocks came to lie on them; raised: < 0
}

export function numberOf(value: Json | undefined, other = 0): number {
  return typeof value === "number" && Number.isFinite(value) ? value : other;
}
export function textOf(value: Json | undefined): string {
  return typeof value === "string" ? value : typeof value === "number" ? String(value) : "";
}
export function numbersOf(value: Json | undefined): number[] {
  return Array.isArray(value) ? value.filter((each): each is number => typeof each === "number") : [];
}
export function pointOf(value: Json | undefined): Point {
  const numbers = numbersOf(value);
  return [numbers[0] ?? 0, numbers[1] ?? 0, numbers[2] ?? 0];
}
export function tablesOf(value: Json | undefined): { [key: string]: Json }[] {
  return Array.isArray(value) ? value.filter(isTable) : [];
}
function pairsOf(value: Json | undefined): [number, number][] {
  if (!Array.isArray(value)) return [];
  return value.map((each) => {
    const numbers = numbersOf(each);
    return [numbers[0] ?? 0, numbers[1] ?? 0];
  });
}
export function ringsOf(value: Json | undefined): [number, number][][] {
  return Array.isArray(value) ? value.map(pairsOf).filter((ring) => ring.length > 0) : [];
}

export function blocksOf(sheaf: Sheaf): BlockHead[] {
  return tablesOf(sheaf.head["blocks"]).map((each) => ({
    id: textOf(each["id"]),
    mass_kg: numberOf(each["mass_kg"]),
    at: pointOf(each["at"]),
    arm: textOf(each["arm"]),
    course: numberOf(each["course"]),
    fixed: each["fixed"] === true,
    crown: each["crown"] === true,
  }));
}
export function jointsOf(sheaf: Sheaf): JointHead[] {
  const blocks = tablesOf(sheaf.head["blocks"]);
  const blockId = (value: Json | undefined): string => (typeof value === "number" ? textOf(blocks[value]?.["id"]) : textOf(value));
  return tablesOf(sheaf.head["joints"]).map((each) => ({
    id: textOf(each["id"]),
    a: blockId(each["a"]),
    b: blockId(each["b"]),
    at: pointOf(each["at"]),
    x: pointOf(each["x"]),
    y: pointOf(each["y"]),
    z: pointOf(each["z"]),
    rings: ringsOf(each["rings"]),
  }));
}
export function supportsOf(sheaf: Sheaf): SupportHead[] {
  return tablesOf(sheaf.head["supports"]).map((each) => ({ name: textOf(each["name"]), a: pointOf(each["a"]), b: pointOf(each["b"]) }));
}
export function casesOf(sheaf: Sheaf): CaseHead[] {
  return tablesOf(sheaf.head["cases"]).map((each) => ({
    id: textOf(each["id"]),
    words: textOf(each["words"]),
    kind: textOf(each["kind"]),
    live: tablesOf(each["live"]).map((load) => ({ at: pointOf(load["at"]), force: pointOf(load["force"]) })),
  }));
}
export function stagesOf(sheaf: Sheaf): StageHead[] {
  return tablesOf(sheaf.head["stages"]).map((each, index) => ({
    step: numberOf(each["step"], index + 1),
    what: textOf(each["what"]),
    words: textOf(each["words"]),
    verdict: textOf(each["verdict"]),
    blocks: numbersOf(each["blocks"]),
    seats: numbersOf(each["seats"]),
    crown_drop_m: numberOf(each["crown_drop_m"]),
    opening_m: numberOf(each["opening_m"]),
    tie_n: numberOf(each["tie_n"]),
    people: each["people"] === true,
    lowered_m: numberOf(each["lowered_m"]),
  }));
}
