import { describe, expect, it } from "vitest";
import { clearOf } from "./clear";

const left = { left: 0, top: 0, right: 300, bottom: 500 }, right = { left: 900, top: 0, right: 1280, bottom: 800 };

describe("a label", () => {
  it("stands over its place where that is free", () => {
    expect(clearOf(600, 300, 60, 24, 1280, [left, right])).toBe(600);
    expect(clearOf(20, 600, 60, 24, 1280, [left])).toBe(60);
  });
  it("is pushed off a panel beside it, never under it", () => {
    expect(clearOf(320, 300, 60, 24, 1280, [left, right])).toBe(360);
    expect(clearOf(890, 300, 60, 24, 1280, [left, right])).toBe(840);
  });
  it("stays away where its place is under a panel, or there is no room", () => {
    expect(clearOf(200, 300, 60, 24, 1280, [left])).toBeNull();
    expect(clearOf(600, 510, 400, 24, 1280, [left, right])).toBeNull();
    expect(clearOf(200, 510, 60, 24, 1280, [left])).toBeNull();
  });
});
