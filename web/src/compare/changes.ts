// What changed between two versions, read out of the head of `compare`, sorted under its kinds.

import type { PlaceKind, Point } from "../api";
import { isTable, type Head, type Json } from "../sheaf";

export interface Change {
  of: string;
  says: string;
  place: { kind: PlaceKind; id: string; at: Point | null };
  moment: string;
}
export interface Kind {
  of: string;
  title: string;
  list: Change[];
}
export type Way = "changes" | "back";

const kTitles: { [of: string]: string } = {
  form: "Form", body: "Body", blocks: "Blocks", joints: "Joints", verdicts: "Verdicts", checks: "Required checks",
  strength: "Strength of the blocks", ground: "Ground", printing: "Printing", centring: "Centring", programme: "Programme",
  quantities: "Quantities", "not compared": "Not compared", brief: "The brief itself",
};
const kPlaces: readonly string[] = ["block", "joint", "support", "tie", "foot", "case", "stage", "key", "none"];

const text = (value: Json | undefined): string => (typeof value === "string" ? value : "");

function point(value: Json | undefined): Point | null {
  if (!Array.isArray(value) || value.length !== 3) return null;
  const [x, y, z] = value;
  return typeof x === "number" && typeof y === "number" && typeof z === "number" ? [x, y, z] : null;
}

function change(value: Json): Change | null {
  if (!isTable(value) || text(value["says"]) === "") return null;
  const place = isTable(value["place"]) ? value["place"] : {};
  const kind = text(place["kind"]);
  return {
    of: text(value["of"]), says: text(value["says"]), moment: text(value["moment"]),
    place: { kind: (kPlaces.includes(kind) ? kind : "none") as PlaceKind, id: text(place["id"]), at: point(place["at"]) },
  };
}

/** What cannot be read is left out; an order other than the server's is never made up. */
export function readChanges(head: Head, way: Way): Change[] {
  const list = head[way];
  if (!Array.isArray(list)) return [];
  return list.map(change).filter((each): each is Change => each !== null);
}

export function byKind(list: readonly Change[]): Kind[] {
  const kinds: Kind[] = [];
  for (const each of list) {
    let kind = kinds.find((known) => known.of === each.of);
    if (kind === undefined) kinds.push((kind = { of: each.of, title: kTitles[each.of] ?? each.of, list: [] }));
    kind.list.push(each);
  }
  return kinds;
}

/** Only what the page itself can be taken to: a place, a moment or a key to change. */
export function leads(each: Change): boolean {
  const { kind, at } = each.place;
  return at !== null || each.moment !== "" || kind === "key" || kind === "case" || kind === "stage" || kind === "block" || kind === "joint";
}

export function summary(kinds: readonly Kind[]): string {
  const told = kinds.filter((kind) => kind.of !== "not compared");
  const count = told.reduce((sum, kind) => sum + kind.list.length, 0);
  if (count === 0) return "Nothing differs by as much as the last figure shown.";
  const names = told.map((kind) => kind.title.toLowerCase());
  const all = names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names[names.length - 1] as string}`;
  return `${count} ${count === 1 ? "difference" : "differences"}: ${all}.`;
}

/** Names of other briefs, as `GET /api/compare` tells them; null where the server tells none. */
export function readBriefs(told: unknown): string[] | null {
  if (!isTable(told) || !Array.isArray(told["briefs"])) return null;
  return told["briefs"].filter((name): name is string => typeof name === "string");
}
