import { describe, expect, it } from "vitest";
import { decodeSheaf, encodeSheaf, type Head } from "../sheaf";
import { uprights } from "./handles";
import { headWords, jointsLeft, readCases, readJoints, readState } from "./joints";
import { rows } from "./cut";
import { section } from "./section_drawing";
import { verdictLine } from "./answer";

const ring = [[-1, -0.2], [1, -0.2], [1, 0.2], [-1, 0.2]];
const jointHead = (id: string, a: number, b: number, x: number): Head => ({ id, a, b, at: [x, 0, 0], x: [0, 1, 0], y: [0, 0, 1], z: [1, 0, 0], friction: 0.6, pad_m: 0.008, rings: [ring], depth_m: 0.4 });
const blocks = decodeSheaf(encodeSheaf({ blocks: [{ id: "g" }, { id: "b1" }, { id: "b2" }], joints: [jointHead("g|b1", 0, 1, 0), jointHead("b1|b2", 1, 2, 1), "odd"], cases: [{ id: "dead", words: "" }, { id: "p1", words: "half" }, { id: "p2", words: "patch" }, { id: "p3", words: "patch" }] }, {}));
const f = (...n: number[]): { numbers: Float32Array; width: number } => ({ numbers: new Float32Array(n), width: 1 });
const proof = decodeSheaf(encodeSheaf({ verdict: "falls", words: "one sentence", load_factor: 1.25, at_cap: true }, {
  force: { numbers: new Float32Array([1e4, 0, 0, NaN, NaN, NaN]), width: 3 }, thrust_at: { numbers: new Float32Array([0, 0, 0.1, NaN, NaN, NaN]), width: 3 },
  pressure: { numbers: new Float32Array([1e4, 0, 2e4, NaN, NaN, NaN]), width: 3 }, peak_pa: f(14000, NaN), opening_m: f(0.0005, NaN), closed_share: f(0.9, NaN), slipping: f(0, 0.2), friction_used: f(0.1, NaN),
  pad_at: { numbers: new Float32Array([0, 0.5, 0.2, 1, 0, 0]), width: 3 }, pad_pa: f(14000, 5), pad_joint: { numbers: new Uint32Array([0, 1]), width: 1 },
}));

describe("joints of the sheaves", () => {
  const joints = readJoints(blocks);
  it("name their blocks, and one that cannot be read keeps its place", () => {
    expect(joints.map((j) => j && `${j.a} ${j.b}`)).toEqual(["g b1", "b1 b2", null]);
    expect(readCases(blocks)).toEqual([{ id: "dead", words: "dead" }, { id: "p1", words: "half" }, { id: "p2", words: "patch (p2)" }, { id: "p3", words: "patch (p3)" }]);
  });
  it("have their state by number, with what is not known left out", () => {
    expect(readState(proof, 0)).toMatchObject({ force: [1e4, 0, 0], pressure: { p: 1e4, px: 0, py: 2e4 }, slipping: false, pads: [{ pa: 14000 }] });
    expect(readState(proof, 1)).toMatchObject({ thrust_at: null, pressure: null, slipping: true });
    expect(readState(proof, 2)).toBeNull();
    expect(readState(proof, -1)).toBeNull();
  });
  it("say in the table what is not known", () => {
    const joint = joints[1], state = readState(proof, 1);
    expect(joint && state).toBeTruthy();
    if (!joint || !state) return;
    const list = rows(joint, state, section(joint, state));
    expect(list.find((r) => r.name === "Greatest pressure")?.value).toBe("not known");
    expect(list[0]?.value).toBe("none");
  });
  it("of an answer leave out those of a block that is away", () => {
    expect(jointsLeft(joints, ["b2"]).map((j) => j?.id)).toEqual(["g|b1", undefined]);
  });
  it("and its verdict has a sign and words", () => {
    expect(verdictLine(proof, true)).toEqual({ sign: "falls", says: "falls; live load may grow to at least 1.25 times; a quick answer, by the pads alone" });
    expect(headWords(proof, "words")).toEqual(["one sentence"]);
  });
});

describe("upright handles", () => {
  const v = [-2, 0, 0, 0, 0, 1.5, 2, 0, 0]; // 4 m long: the staff of the rise is a tenth of that
  const shift = (dz: number): Float32Array => new Float32Array(v.map((n, i) => (i % 3 === 2 ? n + dz : n)));
  const shape = decodeSheaf(encodeSheaf({ supports: [{ name: "w", a: [-2, 1, 0], b: [-2, -1, 0] }] }, { vertices: { numbers: new Float32Array(v), width: 3 }, upper: { numbers: shift(0.2), width: 3 }, lower: { numbers: shift(-0.2), width: 3 } }));
  const key = (name: string, text: string) => ({ key: name, text, value: null, unit: "m", meaning: "", written: "quantity" as const, given: true });
  it("write rise and depths in the brief's own unit", () => {
    const list = uprights([key("form.rise", '"1.5 m"'), key("section.depth_crown", '"400 mm"'), key("section.depth_springing", '"0.4 m"')], shape);
    expect(list.map((u) => u.id)).toEqual(["form.rise", "section.depth_crown", "section.depth_springing"]);
    const [rise, crown, springing] = list;
    expect(rise?.foot[2]).toBeCloseTo(1.7, 6);
    expect(rise?.at[2]).toBeCloseTo(1.7 + 0.4, 6);
    expect(rise?.change((rise.at[2]) + 0.1)).toEqual([{ key: "form.rise", text: '"1.600 m"' }]);
    expect(crown?.change(crown.at[2] + 0.05)).toEqual([{ key: "section.depth_crown", text: '"500 mm"' }]);
    expect(springing?.change(springing.at[2] - 0.05)).toEqual([{ key: "section.depth_springing", text: '"0.300 m"' }]);
    expect(springing?.at[0]).toBeCloseTo(-2, 6);
  });
  it("never write a depth of nothing", () => {
    const [crown] = uprights([key("section.depth_crown", '"0.4 m"')], shape);
    expect(crown?.change(-5)).toEqual([{ key: "section.depth_crown", text: '"0.010 m"' }]);
  });
  it("are none where the brief does not write the length so that this page can read it", () => {
    expect(uprights([key("form.rise", '"1 fathom"')], shape)).toEqual([]);
  });
});
