import { describe, expect, it } from "vitest";
import type { StageHead } from "../heads";
import { findMoment, firstShows, lifeOf, mayShow, momentId, step, type Kind } from "./moments";

const stage = (n: number, blocks: number, seats: number, words = `s${n}`): StageHead => ({
  step: n, what: "", words, verdict: "stands", blocks: Array.from({ length: blocks }, (_, i) => i),
  seats: Array.from({ length: seats }, (_, i) => i), crown_drop_m: 0, opening_m: 0, tie_n: 0, people: false, lowered_m: 0,
});
/** 12 placed (the last is the key), 3 lowerings, cleared, 2 laid, 2 taken off, 2 held again, 12 away. */
function stages(): StageHead[] {
  const out: StageHead[] = [];
  const add = (blocks: number, seats: number, words?: string): void => void out.push(stage(out.length + 1, blocks, seats, words));
  for (let i = 1; i <= 12; ++i) add(i, 2 * i);
  for (const seats of [24, 20, 8]) add(12, seats);
  add(12, 0, "cleared");
  for (const words of ["a", "b", "b", "a"]) add(12, 0, words);
  for (const seats of [24, 24]) add(12, seats);
  for (let i = 11; i >= 0; --i) add(i, 2 * i);
  return out;
}

describe("the life of a bridge", () => {
  const all = stages();
  const life = lifeOf(all, 11);
  const names = life.stones.map((stone) => stone.name);

  it("goes from drawn over the key to taken down", () => {
    expect(names).toEqual([
      "drawn", "shaped", "cut", "printed", "footings", "1–6", "7–11", "closed",
      "lowered", "struck", "deck on", "walked on", "as built", "deck off", "held again", "taken down",
    ]);
    expect(life.stones[life.key]?.kind).toBe("closed");
  });
  it("has every stage in one stone, once, in order", () => {
    const there = life.stones.flatMap((stone) => (stone.stages === null ? [] : Array.from({ length: stone.stages[1] - stone.stages[0] }, (_, i) => (stone.stages as [number, number])[0] + i)));
    expect(there).toEqual(all.map((_, i) => i));
  });
  it("knows the turns from what stands and on what", () => {
    const range = (name: string): [number, number] | null => life.stones.find((stone) => stone.name === name)?.stages ?? null;
    expect(range("lowered")).toEqual([12, 16]);
    expect(range("deck on")).toEqual([16, 18]);
    expect(range("deck off")).toEqual([18, 20]);
    expect(range("held again")).toEqual([20, 22]);
    expect(range("taken down")).toEqual([22, 34]);
  });
  it("finds each moment again by its id", () => {
    life.stones.forEach((stone, s) => {
      const list = stone.stages === null ? [null] : Array.from({ length: stone.stages[1] - stone.stages[0] }, (_, i) => (stone.stages as [number, number])[0] + i);
      for (const at of list) expect(findMoment(momentId(stone, at, all), life, all), `${stone.name} ${at}`).toEqual({ stone: s, stage: at });
    });
  });
  it("takes the words of the findings too, and the key for what is not there", () => {
    expect(findMoment("walked on", life, all)).toEqual(findMoment("walked", life, all));
    expect(findMoment("nowhere", life, all)).toEqual({ stone: life.key, stage: 11 });
    expect(findMoment("stage 999", life, all).stone).toBe(names.indexOf("1–6"));
  });
  it("can be walked along one step at a time, there and back, without a miss", () => {
    let at = findMoment("drawn", life, all);
    const seen = [at];
    for (;;) {
      const next = step(at, 1, life, false);
      if (next === at) break;
      seen.push((at = next));
    }
    expect(seen.length).toBe(34 + 8);
    for (const expected of seen.slice(0, -1).reverse()) expect((at = step(at, -1, life, false))).toEqual(expected);
    expect(step(at, -1, life, true)).toEqual(at);
  });
  it("stands for stages that are not known yet by one stone", () => {
    const early = lifeOf(null, 0);
    expect(early.stones.map((stone) => stone.name)).toEqual(["drawn", "shaped", "cut", "printed", "footings", "placed", "closed", "struck", "walked on", "as built", "taken down"]);
    expect(findMoment("stage 7", early, null)).toEqual({ stone: 5, stage: null });
  });
  it("is not upset by a programme that ends early", () => {
    for (let n = 1; n < all.length; ++n) {
      const part = all.slice(0, n);
      const shorter = lifeOf(part, Math.min(11, n - 1));
      const held = shorter.stones.reduce((sum, stone) => sum + (stone.stages === null ? 0 : stone.stages[1] - stone.stages[0]), 0);
      expect(held, `${n} stages`).toBe(n);
    }
  });
  it("shows first only what may be shown", () => {
    for (const kind of ["drawn", "shaped", "cut", "printed", "footings", "stage", "closed", "struck", "walked", "as built", "taken down"] as Kind[])
      for (const show of firstShows(kind)) expect(mayShow(kind)).toContain(show);
  });
});
