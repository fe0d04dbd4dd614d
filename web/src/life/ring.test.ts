import { describe, expect, it } from "vitest";
import { along, cutRing, topBetween } from "./ring";

const size = { width: 1000, rise: 60, depth: 30, margin: 10 };

describe("the arch of life", () => {
  const ring = cutRing([1, 2, 3], 1, [2, 2, 1, 1], size);
  it("has the key at the crown, upright", () => {
    const key = ring.stones[3];
    expect(key?.lean).toBeCloseTo(0, 9);
    expect(key?.x).toBeCloseTo(500, 9);
    expect(key?.y).toBeCloseTo(15, 9);
  });
  it("has no gaps, and ends alike at both springings", () => {
    ring.stones.slice(1).forEach((stone, i) => expect(stone.from).toBe(ring.stones[i]?.to));
    const [first, last] = [ring.stones[0], ring.stones[ring.stones.length - 1]];
    expect(first?.from).toBeCloseTo(-(last?.to ?? 0), 12);
    expect(ring.cx + (ring.radius + 15) * Math.sin(last?.to ?? 0)).toBeCloseTo(990, 6);
  });
  it("gives each stone its share of its half", () => {
    const width = (i: number): number => (ring.stones[i]?.to ?? 0) - (ring.stones[i]?.from ?? 0);
    expect(width(1) / width(0)).toBeCloseTo(2, 9);
    expect(width(2) / width(0)).toBeCloseTo(3, 9);
    expect(width(4) / width(6)).toBeCloseTo(2, 9);
  });
  it("says how high the ring reaches between two places", () => {
    expect(topBetween(ring, 400, 600)).toBeCloseTo(0, 9);
    // at the end of the outer line, which is 30 outside the inner one of the given rise
    const last = ring.stones[ring.stones.length - 1];
    const end = ring.cx + (ring.radius + 30) * Math.sin(last?.to ?? 0);
    expect(topBetween(ring, end, end + 50)).toBeCloseTo(ring.cy - (ring.radius + 30) * Math.cos(last?.to ?? 0), 6);
    expect(topBetween(ring, 700, 800)).toBeLessThan(topBetween(ring, 800, 900));
  });
  it("says how far along a stone a point is", () => {
    const stone = ring.stones[2] as (typeof ring.stones)[number];
    for (const share of [0.1, 0.5, 0.9]) {
      const angle = stone.from + share * (stone.to - stone.from);
      const r = ring.radius + 20;
      expect(along(stone, ring, ring.cx + r * Math.sin(angle), ring.cy - r * Math.cos(angle))).toBeCloseTo(share, 9);
    }
    expect(along(stone, ring, -1e6, 0)).toBe(0);
    expect(along(stone, ring, 1e6, 0)).toBeLessThan(1);
  });
  it("is drawn inside its box", () => {
    for (const stone of ring.stones) for (const number of stone.path.match(/-?\d+\.\d+/g) ?? []) expect(Number.isFinite(Number(number))).toBe(true);
    expect(ring.height).toBeGreaterThan(size.depth + size.rise * 0.8);
    expect(ring.height).toBeLessThan(size.depth + size.rise * 1.3);
  });
});
