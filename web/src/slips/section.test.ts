import { describe, expect, it } from "vitest";
import { extentAt, hull, isRectangle, kern, moments, pressed, pressureAt, signedArea, wedge, type Point, type Ring } from "./section";
import { rows } from "./cut";
import { inFrame, neutralLine, section, type JointShape, type JointState } from "./section_drawing";

const box = (b: number, d: number, x = 0, y = 0): Ring => [[x - b / 2, y - d / 2], [x + b / 2, y - d / 2], [x + b / 2, y + d / 2], [x - b / 2, y + d / 2]];
const B = 1.9, D = 0.28;

describe("moments", () => {
  it("of a rectangle are by the book", () => {
    const m = moments([box(B, D, 0.3, -0.1)]);
    expect(m?.area).toBeCloseTo(B * D, 12);
    expect(m?.centre[0]).toBeCloseTo(0.3, 12);
    expect(m?.centre[1]).toBeCloseTo(-0.1, 12);
    expect(m?.yy).toBeCloseTo((B * D ** 3) / 12, 12);
    expect(m?.xx).toBeCloseTo((D * B ** 3) / 12, 12);
    expect(m?.xy).toBeCloseTo(0, 12);
  });
  it("take a ring within another as a hole, whichever way it runs", () => {
    const hole = box(1, 0.1);
    for (const inner of [hole, [...hole].reverse()]) {
      const m = moments([box(B, D), inner]);
      expect(m?.area).toBeCloseTo(B * D - 0.1, 12);
      expect(m?.yy).toBeCloseTo((B * D ** 3 - 1 * 0.1 ** 3) / 12, 12);
    }
  });
  it("are none without an area", () => expect(moments([[[0, 0], [1, 1]]])).toBeNull());
});

describe("the kern", () => {
  it("of a rectangle is the rhombus of the middle thirds", () => {
    const corners = kern([box(B, D)]) ?? [];
    const sorted = corners.map(([x, y]) => [Math.round(x * 1e9) / 1e9 + 0, Math.round(y * 1e9) / 1e9 + 0]);
    expect(sorted).toHaveLength(4);
    for (const [x, y] of [[B / 6, 0], [-B / 6, 0], [0, D / 6], [0, -D / 6]])
      expect(sorted.some((p) => Math.abs((p[0] ?? 9) - (x ?? 0)) < 1e-8 && Math.abs((p[1] ?? 9) - (y ?? 0)) < 1e-8), `${x}, ${y}`).toBe(true);
  });
  it("of a circle is a quarter of its radius", () => {
    const ring: Point[] = Array.from({ length: 360 }, (_, i) => [Math.cos((i * Math.PI) / 180), Math.sin((i * Math.PI) / 180)]);
    for (const p of kern([ring]) ?? []) expect(Math.hypot(p[0], p[1])).toBeCloseTo(0.25, 3);
  });
  it("of a hollow section is wider than that of a full one", () => {
    const full = kern([box(B, D)]), hollow = kern([box(B, D), box(B - 0.09, D - 0.09)]);
    expect(Math.abs(signedArea(hollow ?? []))).toBeGreaterThan(Math.abs(signedArea(full ?? [])));
  });
  it("knows a rectangle", () => {
    expect(isRectangle([box(B, D)])).toBe(true);
    expect(isRectangle([box(B, D), box(1, 0.1)])).toBe(false);
    expect(isRectangle([[[0, 0], [1, 0], [0, 1]]])).toBe(false);
  });
});

describe("pressure", () => {
  // N at e = D/3 from the middle: a triangle of 3·(D/2 − e) = D/2 bears, peak 2N over its area
  const N = 1e5, peak = (2 * N) / (B * (D / 2));
  const slope = peak / (D / 2);
  const plane = { p: 0, px: 0, py: slope };
  it("beyond the kern bears on part of the joint", () => {
    const w = wedge([box(B, D)], plane);
    expect(w?.peak).toBeCloseTo(peak, 3);
    expect(w?.zero).toBeCloseTo(0, 12);
    expect(w?.atFrom).toBe(0);
    const part = pressed(box(B, D), plane);
    expect(Math.abs(signedArea(part))).toBeCloseTo((B * D) / 2, 12);
    for (const p of part) expect(pressureAt(plane, p)).toBeGreaterThanOrEqual(-1e-6);
    const line = neutralLine([box(B, D)], plane);
    for (const p of line ?? []) expect(p[1]).toBeCloseTo(0, 12);
    expect(line).toHaveLength(2);
    expect(Math.abs((line?.[0][0] ?? 0) - (line?.[1][0] ?? 0))).toBeCloseTo(B, 12);
  });
  it("within the kern bears on all of it", () => {
    const all = { p: 1e6, px: 0, py: 1e5 };
    expect(pressed(box(B, D), all)).toHaveLength(4);
    expect(neutralLine([box(B, D)], all)).toBeNull();
    expect(wedge([box(B, D)], all)?.atFrom).toBeCloseTo(1e6 - 1e5 * (D / 2), 3);
  });
  it("may be even, or be nowhere", () => {
    expect(wedge([box(B, D)], { p: 2e5, px: 0, py: 0 })).toMatchObject({ along: [0, 1], peak: 2e5, atFrom: 2e5 });
    expect(wedge([box(B, D)], { p: -1, px: 0, py: 0 })).toBeNull();
  });
});

describe("a section", () => {
  const joint: JointShape = { id: "b1|b2", a: "b1", b: "b2", at: [5, 0, 2], x: [0, 1, 0], y: [0, 0, 1], z: [1, 0, 0], friction: 0.6, pad_m: null, rings: [box(B, D)], depth_m: D };
  const state = (part: Partial<JointState> = {}): JointState => ({ force: [1e5, 0, -2e4], thrust_at: [5, 0.1, 2 + D / 12], peak_pa: 4e5, pressure: { p: 1e5, px: 0, py: 0 }, opening_m: 0, closed_share: 1, slipping: false, friction_used: 0.2, pads: [], ...part });
  it("takes force, lean and place from the sheaf's numbers", () => {
    const s = section(joint, state());
    expect(s.normal_n).toBe(1e5);
    expect(s.shear_n).toBeCloseTo(2e4, 6);
    expect(Math.tan(s.angle_rad ?? 0)).toBeCloseTo(0.2, 12);
    expect(Math.tan(s.frictionAngle_rad)).toBeCloseTo(0.6, 12);
    expect(s.depthShare).toBeCloseTo(0.5 + 1 / 12, 12);
    expect(s.thrustHolds).toBe("in the kern");
  });
  it("says where the thrust goes", () => {
    expect(section(joint, state({ thrust_at: [5, 0, 2 + 0.4 * D] })).thrustHolds).toBe("outside the kern");
    expect(section(joint, state({ thrust_at: [5, 0, 2 + 0.6 * D] })).thrustHolds).toBe("outside the joint");
    expect(section(joint, state({ thrust_at: null })).thrustHolds).toBeNull();
  });
  it("has the depth of the arch, apart from what stands along its edges", () => {
    // 1.9 m wide, 280 mm deep, with an upstand 120 mm wide and 250 mm high along both edges
    const u: Ring = [[-B / 2, -D / 2], [B / 2, -D / 2], [B / 2, D / 2 + 0.25], [B / 2 - 0.12, D / 2 + 0.25], [B / 2 - 0.12, D / 2], [-B / 2 + 0.12, D / 2], [-B / 2 + 0.12, D / 2 + 0.25], [-B / 2, D / 2 + 0.25]];
    const s = section({ ...joint, rings: [u], depth_m: D + 0.25 }, state());
    expect(s.depth_m).toBeCloseTo(D, 12);
    expect(s.over_m).toBeCloseTo(D + 0.25, 12);
    expect(s.depthShare).toBeCloseTo(0.5 + 1 / 12, 12); // of the arch, not of the upstand
    const list = rows({ ...joint, rings: [u] }, state(), s).map((row) => `${row.name}: ${row.value}`).join("; ").replace(/\u202f/g, " ");
    expect(list).toContain("Depth in the middle of the width: 280 mm; Height over all, upstands and edges included: 530 mm");
    const plain = section(joint, state());
    expect(rows(joint, state(), plain).map((row) => row.name)).toContain("Depth");
    expect(extentAt([box(B, D), box(1, 0.1)], 0)).toEqual([-D / 2, D / 2]);
    expect(extentAt([box(B, D)], 2)).toBeNull();
  });
  it("measures in the joint's own frame", () => expect(inFrame(joint, [9, 0.3, 2.1])).toEqual([0.3, expect.closeTo(0.1, 9)]));
  it("has a hull that turns one way", () => {
    const h = hull([[0, 0], [1, 0], [0.5, 0.2], [1, 1], [0, 1], [0.5, 0.5]]);
    expect(h).toHaveLength(4);
    expect(signedArea(h)).toBeCloseTo(1, 12);
  });
});
