import { describe, expect, it } from "vitest";
import { offTheWalk } from "./edge";

describe("a place off the walk", () => {
  it("is read out of what the server refuses", () => {
    const fault = { key: "persons[1].at", found: "(3.000, 2.000), 1.00 m off the walking surface", expected: "a place on it; the nearest is (3.000, -1.000)", says: "persons[1].at: …" };
    expect(offTheWalk([fault, { key: "crowds[1].radius_m", says: "is too small" }])).toEqual([{ kind: "person", index: 1, nearest: [3, -1] }]);
    expect(offTheWalk([{ ...fault, key: "friction" }, { key: "crowds[1].at", expected: "nothing: the bridge has no walking surface", says: "" }])).toEqual([]);
  });
});
