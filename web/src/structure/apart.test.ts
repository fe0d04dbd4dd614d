import { describe, expect, it } from "vitest";
import { apart } from "./apart";

describe("marks on one another", () => {
  it("are moved apart, the first stays", () => {
    expect(apart([[0, 0], [100, 0]], 20)).toEqual([[0, 0], [100, 0]]);
    expect(apart([[0, 0], [5, 0], [0, 0]], 20)).toEqual([[0, 0], [20, 0], [0, 20]]);
    const put = apart([[0, 0], [3, 1], [-4, 2], [1, -3]], 20);
    for (const [i, p] of put.entries()) for (const q of put.slice(i + 1)) expect(Math.hypot(p[0] - q[0], p[1] - q[1])).toBeGreaterThan(12);
  });
});
