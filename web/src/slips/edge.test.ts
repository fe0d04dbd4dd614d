import { describe, expect, it } from "vitest";
import { justInside, offTheWalk } from "./edge";

describe("a place off the walk", () => {
  it("is read out of what the server refuses", () => {
    const fault = { key: "persons[1].at", found: "(3.000, 2.000), 1.00 m off the walking surface", expected: "a place on it; the nearest is (3.000, -1.000)", says: "persons[1].at: …" };
    expect(offTheWalk([fault, { key: "crowds[1].radius_m", says: "is too small" }])).toEqual([{ kind: "person", index: 1, nearest: [3, -1] }]);
    expect(offTheWalk([{ ...fault, key: "friction" }, { key: "crowds[1].at", expected: "nothing: the bridge has no walking surface", says: "" }])).toEqual([]);
  });
  it("is put a little inside the edge, from whichever side it came", () => {
    expect(justInside([3, 2], [3, 1], 0.01)).toEqual([3, 0.99]);
    expect(justInside([0, 0], [0.6, 0.8], 0.1)).toEqual([0.66, 0.88]);
    expect(justInside([1, 1], [1, 1], 0.1)).toEqual([1, 1]);
  });
});
