import { describe, expect, it } from "vitest";
import { makeApi, type LodgeState, type PartKnown } from "./api";
import { encodeSheaf, type Head, type Numbers } from "./sheaf";
import { Refused, type Source } from "./source";
import { whyMissing, whyNot } from "./shows";
import { emptyLodge, type Lodge, type Show } from "./state";
import { Views } from "./views";

const part = (of: number | null): PartKnown => ({ of, fresh: of !== null, failed: "", took_s: 1 });
const state = (whole: number | null, proof: number | null = 1): LodgeState => ({
  name: "", title: "", file: "", folder: "", revision: 1, saved: true, undo: false, redo: false, busy: null, daybook: false,
  parts: { shape: part(1), blocks: part(1), proof: part(proof), whole: part(whole) },
});
const f32 = (width: number, ...list: number[]): { numbers: Numbers; width: number } => ({ numbers: new Float32Array(list), width });
const blocks: Head = {
  blocks: [], joints: [{ id: "a|b" }],
  cases: [{ id: "dead", words: "weight", live: [] }, { id: "people", words: "people", live: [{ at: [0, 0, 1], force: [0, 0, -1] }] }],
};
const thrust = { force: f32(3, 1, 0, 0), thrust_at: f32(3, 0, 0, 0) };
const kProofs: { [id: string]: ArrayBuffer } = {
  dead: encodeSheaf({}, { ...thrust, pressure: f32(3, 1, 0, 0), move: f32(6, 0, 0, -1, 0, 0, 0) }),
  people: encodeSheaf({}, { ...thrust, pressure: f32(3, NaN, NaN, NaN), move: f32(6, 0, 0, 0, 0, 0, 0), mechanism: f32(6, 0, 0, 1, 0, 0, 0) }),
  other: encodeSheaf({}, { force: f32(3, 1, 0, 0, 1, 0, 0) }),
};
/** Everything that is wanted has come; what is not there is refused. */
async function views(now: LodgeState, want: [string, { [key: string]: string }?][]): Promise<Views> {
  const source: Source = {
    live: true,
    view: (name, query) => {
      const bytes = name === "blocks" ? encodeSheaf(blocks, {}) : name === "proof" ? kProofs[query?.["case"] ?? ""] : name === "shape" ? encodeSheaf({}, { flow: f32(2, 1, 0) }) : undefined;
      return bytes === undefined ? Promise.reject(new Refused(404, [{ says: `no ${name} was asked for` }])) : Promise.resolve(bytes);
    },
    json: () => Promise.reject(new Error("not here")),
    bytes: () => Promise.reject(new Error("not here")),
  };
  const made = new Views(makeApi(source));
  made.follow(now);
  for (const [name, query] of want) made.want(name, query);
  await new Promise((resolve) => setTimeout(resolve, 0));
  return made;
}
const lodge = (now: LodgeState, change: Partial<Lodge> = {}): Lodge => ({ ...emptyLodge(), state: now, ...change });

describe("what is not there", () => {
  it("is told by what is the case", () => {
    const none = { peek: () => null };
    const said = "Nothing to show of it yet.";
    expect(whyMissing("layers", said, state(1), none)).toBe("This brief asks for no printing.");
    expect(whyMissing("survey", said, state(1), none)).toBe("This brief has no survey.");
    expect(whyMissing("survey", said, state(null), none)).toBe("That comes with the whole run: work out the whole.");
    expect(whyMissing("survey", "The marks do not fit.", state(1), none)).toBe("The marks do not fit.");
  });
});

describe("a switch that would change nothing says why", () => {
  it("where its part is not there", async () => {
    const early = state(null, null);
    const none = await views(early, [["blocks"]]);
    expect(whyNot("seats", "closed", lodge(early), none)).toBe("That comes with the whole run: work out the whole.");
    expect(whyNot("thrust", "struck", lodge(early), none)).toBe("That is not worked out yet.");
    expect(whyNot("thrust", "struck", lodge({ ...early, busy: { stage: "cut", fraction: 0 } }), none)).toBe("That is on its way.");
    const failed = { ...early, parts: { ...early.parts, proof: { ...part(null), failed: "/w/brief.toml:3:1: no balance" } } };
    expect(whyNot("thrust", "struck", lodge(failed), none)).toBe("It did not come out: No balance. Where: line 3 of brief.toml.");
    expect(whyNot("ground", "struck", lodge(early), none)).toBe("");
  });
  it("where the server has none of it, and not before that is known", async () => {
    const now = state(1);
    expect(whyNot("survey", "as built", lodge(now), await views(now, [["blocks"]]))).toBe("");
    expect(whyNot("survey", "as built", lodge(now), await views(now, [["blocks"], ["survey"]]))).toBe("No survey was asked for.");
  });
  it("where the proof holds nothing of it", async () => {
    const now = state(1);
    const all = await views(now, [["blocks"], ["proof", { case: "dead" }], ["proof", { case: "people" }], ["proof", { case: "other" }]]);
    const why = (show: Show, caseId: string, shows: Show[] = []): string => whyNot(show, "walked", lodge(now, { caseId, shows: new Set(shows) }), all);
    expect([why("thrust", "dead"), why("pads", "dead"), why("moved", "dead")]).toEqual(["", "", ""]);
    expect(why("mechanism", "dead")).toBe("No way to fall was found under this load.");
    expect([why("mechanism", "people"), why("thrust", "people")]).toEqual(["", ""]);
    expect(why("pads", "people")).toBe("No pressure is known under this load.");
    expect(why("moved", "people")).toBe("No movement is known under this load.");
    expect(why("moved", "people", ["mechanism"])).toBe("How it would fall is shown instead.");
    expect(why("thrust", "other")).toBe("This proof is of other blocks than those shown.");
    expect(why("live", "dead")).toBe("This load is weight alone.");
    expect(why("live", "people")).toBe("");
    expect(why("walk", "dead")).toBe("There is no walking surface.");
    const early = state(null);
    expect(whyNot("walk", "walked", lodge(early), await views(early, [["blocks"]]))).toBe("That comes with the whole run.");
    expect(whyNot("live", "walked", lodge(now, { caseId: "people", tried: true }), all)).toBe("What is tried has its own marks.");
  });
  it("where the form has no such field", async () => {
    const now = state(1);
    const all = await views(now, [["blocks"], ["shape"]]);
    expect(whyNot("flow", "shaped", lodge(now), all)).toBe("");
    expect(whyNot("phi", "shaped", lodge(now), all)).toBe("The form holds nothing of that kind.");
  });
});
