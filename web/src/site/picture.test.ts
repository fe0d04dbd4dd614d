import { describe, expect, it } from "vitest";
import { boxOf, dots, pathOf, roleOf, sideWith } from "./picture";
import type { DayBlock, Drawn } from "./types";

const square = (id: string, x: number, ground = false): Drawn => ({ id, ground, rings: [[[x, 0], [x + 1, 0], [x + 1, 2], [x, 2]]] });
const block = (id: string, x: number, y: number, standing = "not made"): DayBlock => ({
  id, order: 1, mass_kg: 1, made: "printed", up: "", centre_m: [x, y, 3], needs: [], joints: [], standing, name: id, copies: [],
});

describe("the picture", () => {
  it("shows all of it, upright", () => {
    const box = boxOf([square("a", 0), square("b", 3)]);
    expect(box.x).toBeCloseTo(-0.08, 9);
    expect(box.width).toBeCloseTo(4.16, 9);
    expect(box.y).toBeCloseTo(-2.08, 9);
    expect(box.height).toBeCloseTo(2.16, 9);
    expect(pathOf(square("a", 0))).toBe("M0 0L1 0L1 -2L0 -2Z");
    expect(boxOf([]).width).toBe(1);
  });
  it("fills the block, marks its neighbours, tells what is in place", () => {
    const blocks = new Map([["a", block("a", 0, 0, "placed")], ["b", block("b", 0, 0)], ["c", block("c", 0, 0, "placed")]]);
    const role = (d: Drawn): string => roleOf(d, "b", ["a", "ground-1"], blocks);
    expect(["a", "b", "c"].map((id) => role(square(id, 0)))).toEqual(["beside", "this", "placed"]);
    expect(role(square("ground-1", 0, true))).toBe("beside");
    expect(role(square("ground-2", 0, true))).toBe("ground");
    const picture = { plan: [], sides: [{ title: "1", blocks: [square("a", 0)] }, { title: "2", blocks: [square("b", 0)] }] };
    expect(sideWith(picture, "b")?.title).toBe("2");
    expect(sideWith(picture, "z")).toBeNull();
  });
  it("puts squares at the centres where there is no outline, along the bridge", () => {
    const made = dots([block("a", 0, 0), block("b", 3, 4)]);
    const middle = (d: Drawn | undefined): number => ((d?.rings[0]?.[0]?.[0] ?? NaN) + (d?.rings[0]?.[1]?.[0] ?? NaN)) / 2;
    const side = made.sides[0]?.blocks;
    expect(Math.abs(middle(side?.[1]) - middle(side?.[0]))).toBeCloseTo(5, 9);
    expect(made.plan[1]?.rings[0]?.[0]).toEqual([2.8, 3.8]);
  });
});
