import { describe, expect, it } from "vitest";
import type { Finding, LodgeState } from "./api";
import { isDraft, Store, takeState } from "./state";
import { figure, jointWords, kilonewtons, megapascals, metres, millimetres, roundBelow } from "./figures";
import { headline, summary, worstFirst } from "./findings";
import { freshWords, workWords } from "./header";
import type { StageHead } from "./heads";
import { stageSentence, staleSentence } from "./life/words";
import { failedText, faultText, queryText, Refused } from "./source";

const plain = (text: string): string => text.replace(/\u202f/g, " ").replace(/\u2212/g, "-");

describe("figures", () => {
  it("have three places and no exponent", () => {
    expect([0, 1, 12.345, 123.45, 12345, 0.0012345, -2.5, NaN, Infinity, 1e-9].map((value) => plain(figure(value)))).toEqual(
      ["0", "1.00", "12.3", "123", "12345", "0.00123", "-2.50", "–", "–", "0"]);
  });
  it("have units", () => {
    expect([kilonewtons(82114.6), megapascals(366000), millimetres(0.00131), millimetres(0.0143), millimetres(-0.00001), metres(1.9)].map(plain)).toEqual(
      ["82.1 kN", "0.366 MPa", "1.3 mm", "14 mm", "0 mm", "1.90 m"]);
  });
  it("are rounded down to 1, 2 or 5", () => {
    expect([1, 1.99, 2, 4.9, 5, 9.99, 10, 385, 0.03, 0].map(roundBelow)).toEqual([1, 1, 2, 2, 5, 5, 10, 200, 0.02, 1]);
  });
  it("name joints", () => expect(jointWords("ground-west|west-01")).toBe("ground-west | west-01"));
});

const part = (of: number | null, fresh: boolean, failed = ""): LodgeState["parts"]["shape"] => ({ of, fresh, failed, took_s: 1 });
const state = (whole: LodgeState["parts"]["whole"], shape = part(3, true)): LodgeState => ({
  name: "n", title: "t", file: "f", folder: "d", revision: 3, saved: true, undo: false, redo: false, busy: null, daybook: false,
  parts: { shape, blocks: part(3, true), proof: part(3, true), whole },
});

describe("what was told last", () => {
  it("is believed, whichever comes last", () => {
    const store = new Store();
    const at = (since: number, told: number): LodgeState => ({ ...state(part(3, true)), since, told });
    takeState(store, at(100, 5));
    takeState(store, at(100, 4)); // a reply that an event has overtaken
    expect(store.get().state?.told).toBe(5);
    takeState(store, at(100, 6));
    expect(store.get().state?.told).toBe(6);
    takeState(store, at(200, 1)); // a server that was started anew
    expect(store.get().state?.since).toBe(200);
  });
});

describe("what is said", () => {
  it("about what is stale or failed", () => {
    expect(freshWords(state(part(3, true)))).toBe("");
    expect(freshWords(state(part(2, false)))).toBe("the whole is stale");
    expect(freshWords(state(part(2, false), part(1, false)))).toBe("the shape and the whole are stale");
    expect(freshWords(state(part(2, false), part(1, false, "no balance")))).toBe("the shape did not come out; the whole is stale");
    expect(freshWords(state(part(null, false)))).toBe("");
  });
  it("about a moment that is not fresh", () => {
    const stone = { kind: "stage", name: "placed", part: "whole", stages: null } as const;
    expect(staleSentence(stone, state(part(3, true)))).toBe("");
    expect(staleSentence(stone, state(part(2, false)))).toBe("Stale: made of revision 2, the brief is at 3.");
    expect(staleSentence(stone, state({ ...part(3, false), draft: "3 of 53 cases are proved so far" }))).toBe("Not whole yet: 3 of 53 cases are proved so far.");
    expect(staleSentence(stone, state(part(null, false)))).toBe("Not worked out yet.");
    expect(staleSentence(stone, { ...state(part(null, false)), busy: { stage: "cut", fraction: 0 } })).toBe("Not worked out yet.");
    expect(staleSentence(stone, state(part(2, false, "no seat")))).toContain("no seat");
    expect(staleSentence({ ...stone, part: null }, state(part(null, false)))).toBe("");
  });
  it("about a part that is shown before it is whole: a draft, never stale", () => {
    const draft = { ...part(3, false), draft: "3 of 53 cases are proved so far" };
    expect(freshWords(state(draft))).toBe("the whole is a draft");
    expect(freshWords(state({ ...draft, of: 2 }))).toBe("the whole is stale");
    expect(freshWords(state({ ...draft, failed: "stopped" }))).toBe("the whole did not come out");
    expect(isDraft(draft, 3)).toBe(true);
    expect(isDraft({ ...draft, draft: "" }, 3)).toBe(false);
  });
  it("about the work: which part, and how far", () => {
    const busy = (stage: string, fraction: number, parts: Partial<LodgeState["parts"]> = {}): LodgeState => ({ ...state(part(2, false)), parts: { ...state(part(2, false)).parts, ...parts }, busy: { stage, fraction } });
    const of = (one: LodgeState["parts"]["shape"]): Partial<LodgeState["parts"]> => ({ shape: one, blocks: part(2, false), proof: part(2, false) });
    expect(workWords(state(part(3, true)))).toBe("");
    expect(workWords(busy("form", 0.42, of(part(2, false))))).toBe("working on the shape: form, 42 %");
    expect(workWords(busy("form", 0, of({ ...part(3, false), draft: "the solid is not made yet" })))).toBe("working on the shape: form");
    expect(workWords(busy("cut", 0.1, of(part(3, true))))).toBe("working on the blocks: cut, 10 %");
    expect(workWords(busy("proof", 0.5, { proof: { ...part(3, false), draft: "3 of 53" } }))).toBe("working on the proof: 50 %");
    expect(workWords(busy("stand: moved footings", 0.925))).toBe("working on the whole: stand: moved footings, 93 %");
    expect(workWords(busy("waiting", 0, { proof: part(2, false, "stopped") }))).toBe("working on the whole: waiting");
  });
  it("about a stage, with figures only where there are some", () => {
    const stage: StageHead = { step: 7, what: "place", words: "yard-03", verdict: "stands", blocks: [], seats: [], crown_drop_m: 0.0012, opening_m: 0, tie_n: 1590, people: true, lowered_m: 0 };
    expect(plain(stageSentence(stage, 81))).toBe("Stage 7 of 81, place yard-03: stands, with people on it too. The crown is 1.2 mm lower, the ties pull up to 1.59 kN.");
    expect(plain(stageSentence({ ...stage, crown_drop_m: 0, tie_n: 0 }, 81))).toBe("Stage 7 of 81, place yard-03: stands, with people on it too.");
  });
  it("about a stage of lowering: by how much, and that nobody is on it", () => {
    const stage: StageHead = { step: 24, what: "lower", words: "row 1 of the feet", verdict: "stands", blocks: [], seats: [], crown_drop_m: 0, opening_m: 0, tie_n: 0, people: false, lowered_m: 0.0004 };
    expect(plain(stageSentence(stage, 81))).toBe("Stage 24 of 81, lower row 1 of the feet: stands, nobody on it. The centring is lowered by 0.40 mm there.");
    expect(plain(stageSentence({ ...stage, what: "raise", words: "all feet alike", lowered_m: -0.00005 }, 81))).toBe("Stage 24 of 81, raise all feet alike: stands, nobody on it. The centring is raised by 0.05 mm there.");
    expect(plain(stageSentence({ ...stage, lowered_m: 0.0123 }, 81))).toContain("lowered by 12 mm there");
  });
  it("about a fault: what is wrong, then where", () => {
    expect(faultText({ key: "form.rise", found: '"banana"', expected: "a length", line: 24, says: '/tmp/a b/brief.toml:24:8: form.rise: found "banana"; expected a length; begin with a number' }))
      .toBe('Found "banana"; expected a length; begin with a number. Where: form.rise, line 24 of brief.toml.');
    expect(faultText({ key: "case", found: '"x"', expected: "one of dead", says: 'case: found "x"; expected one of dead' })).toBe('Found "x"; expected one of dead. Where: case.');
    expect(faultText({ says: "nothing to show of it yet" })).toBe("Nothing to show of it yet.");
    expect(new Refused(400, [{ key: "a.b", says: "x.toml:3: a.b: found 3" }]).message).toBe("Found 3. Where: a.b, line 3 of x.toml.");
    expect(failedText("/w/brief.toml:2:1: a: found 1; expected 2; /w/brief.toml:9:1: b: found 3")).toBe("Found 1; expected 2. Where: a, line 2 of brief.toml. Found 3. Where: b, line 9 of brief.toml.");
    expect(failedText("stopped")).toBe("stopped");
    expect(staleSentence({ kind: "stage", name: "placed", part: "whole", stages: null }, state(part(null, false, "/w/brief.toml:2:1: no seat")))).toBe("Not there: No seat. Where: line 2 of brief.toml.");
  });
  it("about all findings in one line", () => {
    const list = (...weights: (0 | 1 | 2 | 3)[]): Finding[] =>
      weights.map((weight) => ({ id: "", weight, share: null, says: "", place: { kind: "none", id: "", at: null }, moment: "" }));
    expect(summary(list(0, 1, 1, 2, 3, 3))).toBe("1 fails, 2 are near their limit, 1 is not checked, 2 hold.");
    expect(worstFirst(list(3, 1, 0, 1)).map((each) => each.weight)).toEqual([0, 1, 1, 3]);
    expect(summary(list(0, 0, 3))).toBe("2 fail, 1 holds.");
    expect(summary([])).toBe("Nothing is known yet.");
    expect(headline(1, list(0, 3), 2)).toBe("Stale, of revision 1: 1 fails, 1 holds.");
    expect(headline(2, list(0, 3), 2)).toBe("1 fails, 1 holds.");
    expect(headline(2, list(0, 3).map((one) => ({ ...one, stale: 1 })), 2)).toBe("1 fails, 1 holds. 2 of these are stale.");
    expect(headline(null, [], 2)).toBe("Nothing is known yet.");
  });
  it("in a query, always in the same order", () => {
    expect(queryText({ b: "x y", a: "1", none: "" })).toBe("?a=1&b=x%20y");
    expect(queryText(undefined)).toBe("");
  });
});
