import { describe, expect, it } from "vitest";
import { meant, suggest } from "./suggest";

const kNames = ["towpath-01", "yard-01", "yard-02", "yard-03", "yard-03/2", "yard-13", "orchard-03", "key", "footings"];

describe("the name of a block", () => {
  it("need not be typed as it is written", () => {
    expect(suggest("Yard 3", kNames, 9)[0]).toBe("yard-03");
    expect(suggest("y13", kNames, 9)).toEqual(["yard-13"]);
    expect(suggest("y3", ["journey 3", ...kNames], 9)).toEqual(["yard-03", "yard-03/2", "yard-13", "journey 3"]);
    expect(suggest("03", kNames, 2)).toEqual(["yard-03", "yard-03/2"]);
    expect(suggest("", kNames, 9)).toEqual([]);
    expect(suggest("zzz", kNames, 9)).toEqual([]);
    expect(suggest("yard", kNames, 3)).toEqual(["yard-01", "yard-02", "yard-03"]);
  });
  it("is taken only where there is no doubt", () => {
    expect(meant("yard-3", kNames)).toBe("yard-03");
    expect(meant("YARD03/2", kNames)).toBe("yard-03/2");
    expect(meant("yard", kNames)).toBeNull();
    expect(meant("a-1", ["a-1", "a-01"])).toBe("a-1");
    expect(meant("a1", ["a-1", "a-01"])).toBeNull();
  });
});
