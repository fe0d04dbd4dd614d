import { describe, expect, it } from "vitest";
import { parseLength, parseList, writeLength } from "./lengths";
import { drag, readPlan, shareAlong } from "./plan";

const keys = [
  { key: "plan.outline", text: '[\n  ["-4.5 m", "-0.95 m"], ["4.5 m", "-0.95 m"], # east\n  ["4.5 m", "0.95 m"], ["-4500 mm", "0.95 m"],\n]' },
  { key: "plan.support[1].id", text: '"west"' },
  { key: "plan.support[1].ends", text: '[["-4.5 m", "0.95 m"], ["-4.5 m", "-0.95 m"]]' },
  { key: "plan.support[2].id", text: '"east"' },
  { key: "plan.support[2].ends", text: '[["4.5 m", "-0.95 m"], ["4.5 m", "0.95 m"]]' },
  { key: "walkway.lines", text: '[[["-4.5 m", "0 m"], ["4.5 m", "0 m"]]]' },
  { key: "form.rise", text: '"1.8 m"' },
];

describe("lengths", () => {
  it("are read and written in their own unit", () => {
    expect(parseLength("8 ft")?.value_m).toBeCloseTo(2.4384, 12);
    expect(parseLength("3 parsecs")).toBeNull();
    expect(parseLength("3")).toBeNull();
    expect(writeLength(2.4384, "ft")).toBe("8.000 ft");
    expect(writeLength(0.0451, "mm")).toBe("45 mm");
    expect(writeLength(-0.0001, "m")).toBe("0.000 m");
    for (const unit of ["m", "mm", "cm", "ft", "in", "yd"])
      expect(Math.abs((parseLength(writeLength(1.23456, unit))?.value_m ?? 0) - 1.23456), unit).toBeLessThan(0.6e-3);
  });
  it("come in lists with comments and commas at the end", () => {
    expect(parseList('[1, "a", [true,], ] # end')).toEqual(["1", "a", ["true"]]);
    expect(parseList("[1, 2")).toBeNull();
    expect(parseList("[1 2]")).toBeNull();
    expect(parseList('"a"')).toBeNull();
    expect(parseList("[".repeat(40) + "]".repeat(40))).toBeNull();
  });
});

describe("the plan", () => {
  const plan = readPlan(keys);
  it("has one handle where points of several keys coincide", () => {
    expect(plan.handles.map((h) => h.label).sort()).toEqual([
      "End 1 of the support east", "End 1 of the support west", "End 2 of the support east", "End 2 of the support west",
      "The whole support east", "The whole support west",
    ]);
  });
  it("writes every point of a handle, in the unit of each", () => {
    const handle = plan.handles.find((h) => h.label === "End 1 of the support west");
    const changes = drag(plan, handle?.id ?? "", [-4.6, 1.05]);
    expect(changes).toContainEqual({ key: "plan.support[1].ends[1]", text: '["-4.600 m", "1.050 m"]' });
    expect(changes).toContainEqual({ key: "plan.outline[4]", text: '["-4600 mm", "1.050 m"]' });
  });
  it("keeps the end of the walkway on the support line, by its share", () => {
    const handle = plan.handles.find((h) => h.label === "End 1 of the support west");
    expect(drag(plan, handle?.id ?? "", [-4.6, 0.95])).toContainEqual({ key: "walkway.lines[1][1]", text: '["-4.550 m", "0.000 m"]' });
  });
  it("moves a whole support with all that lies on it, and nothing else", () => {
    const changes = drag(plan, "plan.support[2]", [4.8, 0]);
    expect(changes.map((c) => c.key).sort()).toEqual(["plan.outline[2]", "plan.outline[3]", "plan.support[2].ends[1]", "plan.support[2].ends[2]", "walkway.lines[1][2]"]);
    for (const change of changes) expect(change.text).toContain('"4.800 m"');
  });
  it("is empty where the points are not in the brief", () => {
    expect(readPlan([{ key: "plan.file", text: '"plan.dxf"' }]).handles).toEqual([]);
  });
  it("reads points that come key by key", () => {
    expect(readPlan([{ key: "plan.outline[7]", text: '["1 m", "2 ft"]' }]).points).toMatchObject([{ key: "plan.outline[7]", units: ["m", "ft"] }]);
  });
  it("knows what lies on a line", () => {
    expect(shareAlong([1, 0.001], [0, 0], [4, 0])).toBeCloseTo(0.25, 3);
    expect(shareAlong([1, 0.1], [0, 0], [4, 0])).toBeNull();
    expect(shareAlong([5, 0], [0, 0], [4, 0])).toBeNull();
    expect(shareAlong([5, 0], [1, 1], [1, 1])).toBeNull();
  });
});
