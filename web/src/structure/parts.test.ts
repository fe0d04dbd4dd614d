import { Color, LineDashedMaterial, LineSegments, Vector3 } from "three";
import { describe, expect, it } from "vitest";
import type { BlockHead, JointHead } from "../heads";
import { decodeSheaf, encodeSheaf, type Head, type Numbers, type Sheaf } from "../sheaf";
import { movedBy, shiftOf, splitByBlock } from "./blocks";
import { verdictsOf, worstCase } from "./cases";
import { flowStrokes, levelLines } from "./field";
import { fitProof } from "./fitted";
import { groundPiece } from "./ground";
import { factorFor, largestShift, toAndFro } from "./motion";
import { jointPoint, jointTriangles } from "./pads";
import type { Palette } from "./palette";
import { nearestJoint } from "./pointer";
import { tipAt } from "./print";
import { forcesOf, thrustParts } from "./thrust";

function sheaf(head: Head, arrays: { [name: string]: { numbers: Numbers; width: number } } = {}): Sheaf {
  return decodeSheaf(encodeSheaf(head, arrays));
}
const joint = (id: string, a: string, b: string, x: number): JointHead => ({
  id, a, b, at: [x, 0, 0], x: [0, 1, 0], y: [0, 0, 1], z: [1, 0, 0], rings: [[[-1, -0.5], [1, -0.5], [1, 0.5], [-1, 0.5]]],
});
const block = (id: string): BlockHead => ({ id, mass_kg: 1, at: [0, 0, 0], arm: "", course: 0, fixed: false, crown: false });

describe("the ground", () => {
  const palette = { of: () => new Color() } as unknown as Palette;
  const corners = [0, 1].flatMap((z) => [[0, 0, z], [1, 0, z], [1, 1, z], [0, 1, z]]);
  const view = sheaf({ ties: [], footings: [{ support: "left", corners, share: 1.2 }] });
  const dashed = (piece: ReturnType<typeof groundPiece>): boolean => piece.group.children.some((each) => each instanceof LineSegments && each.material instanceof LineDashedMaterial);
  it("of an older revision is dashed and says so, even where it is only there to be seen", () => {
    const older = groundPiece(view, 10, false, { of: 1, revision: 3 }, palette);
    expect(dashed(older)).toBe(true);
    expect(older.labels.map((label) => label.text)).toEqual(["footing left, uses 120 % of what it may (revision 1)"]);
    expect(older.legend.map((line) => line.text)).toEqual(["footings and ties are older: of revision 1, the brief is at 3"]);
    const newest = groundPiece(view, 10, false, null, palette);
    expect(dashed(newest)).toBe(false);
    expect(newest.legend).toEqual([]);
  });
});

describe("thrust", () => {
  const joints = [joint("g|a", "g", "a", 0), joint("a|b", "a", "b", 1), joint("b|h", "b", "h", 2)];
  const at = new Float32Array([0, 0, 0, 1, 0, 0.2, 2, 0, 0]);
  it("goes through each block from joint to joint, as thick as the force at both ends", () => {
    const parts = thrustParts(joints, at, [10, 20, 30]);
    expect(parts.map((part) => [part.a[0], part.b[0], part.force_a, part.force_b])).toEqual([[0, 1, 10, 20], [1, 2, 20, 30]]);
  });
  it("leaves out a joint that carries nothing", () => {
    expect(thrustParts(joints, at, [10, NaN, 30])).toEqual([]);
  });
  it("meets in one point in a key with three joints, nearer to the larger force", () => {
    const three = [joint("a|k", "a", "k", 0), joint("b|k", "b", "k", 1), joint("c|k", "c", "k", 2)];
    const parts = thrustParts(three, new Float32Array([0, 0, 0, 4, 0, 0, 0, 4, 0]), [1, 2, 1]);
    expect(parts.length).toBe(3);
    for (const part of parts) expect(part.b).toEqual([2, 1, 0]);
  });
  it("takes a force without a place for none", () => {
    const proof = sheaf({}, {
      force: { numbers: new Float32Array([3, 4, 0, 0, 0, 0, 1, 0, 0]), width: 3 },
      thrust_at: { numbers: new Float32Array([1, 1, 1, 2, 2, 2, NaN, NaN, NaN]), width: 3 },
    });
    expect(forcesOf(proof)).toEqual([5, NaN, NaN]);
  });
});

describe("joints", () => {
  it("are filled with triangles of the same area, holes left out", () => {
    const ring = joint("a|b", "a", "b", 0);
    const holed: JointHead = { ...ring, rings: [...ring.rings, [[-0.5, -0.25], [-0.5, 0.25], [0.5, 0.25], [0.5, -0.25]]] };
    const area = (corners: [number, number][]): number => {
      let sum = 0;
      for (let i = 0; i < corners.length; i += 3) {
        const [a, b, c] = corners.slice(i, i + 3) as [[number, number], [number, number], [number, number]];
        sum += Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])) / 2;
      }
      return sum;
    };
    expect(area(jointTriangles(ring))).toBeCloseTo(2, 12);
    expect(area(jointTriangles(holed))).toBeCloseTo(1.5, 12);
    const two: JointHead = { ...ring, rings: [ring.rings[0] as [number, number][], (ring.rings[0] as [number, number][]).map(([x, y]) => [x + 5, y])] };
    expect(area(jointTriangles(two))).toBeCloseTo(4, 12);
  });
  it("lie in their frame", () => {
    expect(jointPoint({ ...joint("a|b", "a", "b", 7), at: [7, 1, 2] }, 0.5, -0.25)).toEqual([7, 1.5, 1.75]);
  });
  it("are picked by the nearest plane of the block that was touched", () => {
    const joints = [joint("g|a", "g", "a", 0), joint("a|b", "a", "b", 1), joint("b|h", "b", "h", 2)];
    expect(nearestJoint(joints, [0.9, 0.4, 0], "a")).toBe(1);
    expect(nearestJoint(joints, [0.2, 0.4, 0], "a")).toBe(0);
    expect(nearestJoint(joints, [1.9, 0, 0], null)).toBe(2);
    expect(nearestJoint(joints, [0, 0, 0], "x")).toBe(-1);
  });
});

describe("blocks", () => {
  it("are cut out of the whole with their own points", () => {
    const points = new Float32Array([0, 0, 0, 1, 0, 0, 0, 1, 0, 5, 5, 5, 6, 5, 5, 5, 6, 5]);
    const parts = splitByBlock(points, new Uint32Array([3, 4, 5, 0, 1, 2, 2, 1, 0]), new Uint32Array([1, 0, 0]), new Float32Array([1, 2, 3, 4, 5, 6]), new Uint32Array([1]), 2);
    expect(parts[0]?.index.length).toBe(6);
    expect(parts[0]?.positions.length).toBe(9);
    expect([...(parts[1]?.positions ?? [])]).toEqual([5, 5, 5, 6, 5, 5, 5, 6, 5]);
    expect([...(parts[1]?.lines ?? [])]).toEqual([1, 2, 3, 4, 5, 6]);
    expect([...(parts[1]?.normals.slice(0, 3) ?? [])]).toEqual([0, 0, 1]);
  });
  it("move as a small movement says, made larger, and stay the size they are", () => {
    const move = [0.001, 0, 0, 0, 0.002, 0];
    const centre = [3, 0, 1] as const;
    const shift = shiftOf(move, 0, centre);
    expect(shift.toArray()).toEqual([0.001 + 0.002, 0, -0.006]);
    const matrix = movedBy(move, 0, 100, centre);
    const moved = new Vector3(...centre).applyMatrix4(matrix);
    expect(moved.x).toBeCloseTo(3.3, 12);
    expect(moved.z).toBeCloseTo(0.4, 12);
    const other = new Vector3(4, 1, 1).applyMatrix4(matrix);
    expect(other.distanceTo(moved)).toBeCloseTo(Math.SQRT2, 12);
  });
});

describe("movements", () => {
  it("are drawn with a round factor, not longer than their share", () => {
    expect(factorFor(0.0013, 10, 0.05)).toBe(200);
    expect(factorFor(0, 10, 0.05)).toBe(1);
    for (let i = 0; i < 200; ++i) {
      const largest = 10 ** (-6 + 5 * ((i * 0.618) % 1));
      const drawn = factorFor(largest, 10, 0.05) * largest;
      expect(drawn).toBeLessThanOrEqual(0.5 * (1 + 1e-9));
      expect(drawn).toBeGreaterThan(0.5 / 2.5 - 1e-9);
    }
  });
  it("say which block goes farthest", () => {
    expect(largestShift(new Float32Array([0, 0, 0, 0, 0, 0, 0, 3, 4, 0, 0, 0]), [[0, 0, 0], [1, 1, 1]])).toEqual({ shift_m: 5, block: 1 });
    expect(largestShift(new Float32Array(12), [[0, 0, 0], [1, 1, 1]]).block).toBe(-1);
  });
  it("go to and fro between none and all", () => {
    expect(toAndFro(0)).toBeCloseTo(0, 12);
    expect(toAndFro(2500)).toBeCloseTo(1, 12);
    expect(toAndFro(5000)).toBeCloseTo(0, 12);
  });
});

describe("the field", () => {
  const points = new Float32Array([0, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 1]);
  const triangles = new Uint32Array([0, 1, 2, 1, 3, 2]);
  it("has level lines where the number is that level", () => {
    const phi = new Float32Array([0, 1, 0, 1, 1, 0]); // phi = x
    const { lines, levels } = levelLines(points, triangles, phi, 0.25);
    expect(levels.length).toBe(lines.length / 6);
    levels.forEach((level, i) => {
      expect(lines[6 * i]).toBeCloseTo(level, 6);
      expect(lines[6 * i + 3]).toBeCloseTo(level, 6);
    });
    expect(new Set(levels)).toEqual(new Set([0.25, 0.5, 0.75, 1]));
  });
  it("leaves out triangles without a number", () => {
    expect(levelLines(points, triangles, new Float32Array(6).fill(NaN), 0.25).lines).toEqual([]);
  });
  it("has strokes along the flow, in the plane of their triangle, longer where it is stronger", () => {
    const strokes = flowStrokes(points, triangles, new Float32Array([1, 0, 0, 2]), new Float32Array([1, 2]), 0.5, 1);
    expect(strokes.length).toBe(2 * 18);
    const length = (at: number): number => Math.hypot(...[0, 1].map((k) => (strokes[at + 3 + k] as number) - (strokes[at + k] as number)));
    expect(length(0)).toBeCloseTo(0.25, 12);
    expect(length(18)).toBeCloseTo(0.5, 12);
    // the second triangle rises by 1 for 1 along y
    expect((strokes[18 + 5] as number) - (strokes[18 + 2] as number)).toBeCloseTo(0.5, 12);
    expect((strokes[3] as number) > (strokes[0] as number)).toBe(true);
  });
});

describe("a proof over the blocks", () => {
  const blocks = ["g", "a", "b", "h"].map(block);
  const joints = [joint("g|a", "g", "a", 0), joint("a|b", "a", "b", 1), joint("b|h", "b", "h", 2)];
  const forces = (n: number): { force: { numbers: Float32Array; width: number } } => ({ force: { numbers: new Float32Array(3 * n), width: 3 } });
  it("fits as it is", () => {
    expect(fitProof(blocks, joints, sheaf({}, forces(3)))?.rows).toEqual([0, 1, 2, 3]);
  });
  it("of a question without a block has the joints that are left", () => {
    const fitted = fitProof(blocks, joints, sheaf({ block_of: [0, 1, 3] }, forces(1)));
    expect(fitted?.rows).toEqual([0, 1, -1, 2]);
    expect(fitted?.joints.map((each) => each.id)).toEqual(["g|a"]);
  });
  it("of other blocks is not drawn", () => {
    expect(fitProof(blocks, joints, sheaf({}, forces(2)))).toBeNull();
  });
  it("names the worst case: falls before undecided before the least factor", () => {
    const verdicts = (list: [string, string, number | null][]): Sheaf =>
      sheaf({ verdicts: list.map(([id, verdict, load_factor]) => ({ id, verdict, load_factor, words: id })) });
    const worst = (list: [string, string, number | null][]): string | undefined => worstCase(verdictsOf(verdicts(list)))?.id;
    expect(worst([["dead", "stands", null], ["a", "stands", 3], ["b", "stands", 2]])).toBe("b");
    expect(worst([["a", "stands", 1], ["b", "undecided", 9], ["c", "falls", 9]])).toBe("c");
    expect(worst([])).toBeUndefined();
  });
});

describe("printing", () => {
  it("is at the last tip whose time has come", () => {
    const time = new Float32Array([0, 1, 1, 4, 9]);
    expect([-1, 0, 0.5, 1, 3.9, 4, 100].map((t) => tipAt(time, t))).toEqual([0, 0, 0, 2, 2, 3, 4]);
  });
});
