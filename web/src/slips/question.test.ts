import { describe, expect, it } from "vitest";
import { circle, walked } from "./loads";
import { readNode, sides } from "./polygon";
import { asksSomething, inWords, middleOf, nothingAsked, readPlace, shift } from "./question";
import { parseForce, parseNumber, parsePressure } from "./units";

const supports = [
  { name: "west", a: [-4.5, 0.95, 0], b: [-4.5, -0.95, 0] },
  { name: "east", a: [4.5, -0.95, 0], b: [4.5, 0.95, 0] },
] as const;

describe("a question", () => {
  it("pushes a footing outwards, away from the middle, whichever way its line runs", () => {
    const middle = middleOf(supports);
    expect(middle).toEqual([0, 0]);
    for (const [i, x] of [[0, -0.01], [1, 0.01]] as const) {
      const s = supports[i];
      expect(shift(s, middle, 0, 10, 0)[0]).toBeCloseTo(x, 12);
      expect(shift({ ...s, a: s.b, b: s.a }, middle, 0, 10, 0)[0]).toBeCloseTo(x, 12);
    }
    expect(shift(supports[1], middle, 5, 0, -2)).toEqual([0, 0.005, -0.002]);
  });
  it("says what is asked", () => {
    const q = { ...nothingAsked("dead"), pushes: [{ support: 1, shift_m: [0.003, 0.004, -0.002] as [number, number, number], turn_rad: 0.01 }], friction: 0.4 };
    expect(asksSomething(q)).toBe(true);
    expect(asksSomething(nothingAsked("dead"))).toBe(false);
    expect(inWords(q, supports)).toEqual(["The footing east is moved 5.0 mm in plan, lowered 2.0 mm, turned 0.57 degrees.", "Friction is 0.4 in all joints."]);
  });
  it("reads a place as people write it", () => {
    expect(readPlace("1.2, -3")).toEqual([1.2, -3]);
    expect(readPlace("1.2,-3")).toEqual([1.2, -3]);
    expect(readPlace("1.2 m; -3 m")).toEqual([1.2, -3]);
    expect(readPlace("1,5 2,5")).toEqual([1.5, 2.5]);
    expect(readPlace("1.2")).toBeNull();
    expect(readPlace("here, there")).toBeNull();
  });
  it("reads what is on it with units", () => {
    expect(parsePressure("5 kPa")).toBe(5000);
    expect(parseForce("80 kg")).toBeCloseTo(784.8, 9);
    expect(parsePressure("5")).toBeNull();
    expect(parseNumber("0,55", null)).toBe(0.55);
    expect(parseNumber("1e-2", null)).toBe(0.01);
    expect(parseNumber("", 3)).toBe(3);
    expect(parseNumber("a", 3)).toBeNull();
  });
  it("walks by arrow keys", () => {
    expect(walked([1, 2], "ArrowUp", false)).toEqual([1, 2.1]);
    expect(walked([1, 2], "ArrowLeft", true)).toEqual([0.5, 2]);
    expect(walked([1, 2], "a", false)).toBeNull();
  });
  it("draws a crowd as a circle on the deck, closed", () => {
    const lines = circle([1, 2], 0.5, (x) => (x > 1 ? [x, 0, 3] : null), 1);
    for (let i = 0; i < lines.length; i += 3) expect(Math.hypot((lines[i] ?? 0) - 1, (lines[i + 1] ?? 0) - 2)).toBeCloseTo(0.5, 5);
    expect(lines[0]).toBeCloseTo(lines[lines.length - 3] ?? 9, 5);
    expect(lines[2]).toBeCloseTo(3.03, 5);
  });
});

describe("a force polygon", () => {
  const told = { at: [0, 0, 1], load_n: 500, closure_rel: 1e-12, forces: [
    { kind: "edge", force: [3000, 0, 100] }, { kind: "edge", force: [0, 4000, 100] }, { kind: "edge", force: [-3000, -4000, 300] }, { kind: "load", force: [0, 0, -500] }] };
  it("closes, head to tail, and leaves upright forces out", () => {
    const node = readNode(told);
    const list = node ? sides(node) : [];
    expect(list.map((s) => s.size_n)).toEqual([3000, 4000, 5000]);
    expect(list[2]?.to).toEqual([0, 0]);
    expect(list[1]?.from).toEqual(list[0]?.to);
    expect(list[1]?.bearing_deg).toBeCloseTo(90, 9);
  });
  it("is not read out of what is no node", () => {
    for (const bad of [null, 3, {}, { at: [0, 0], forces: [] }, { at: [0, 0, 1], forces: [{ force: [1, "a", 2] }] }]) expect(readNode(bad)).toBeNull();
  });
});
