import { describe, expect, it } from "vitest";
import { byKind, leads, readBriefs, readChanges, summary, type Change } from "./changes";

const raw = (of: string, says: string, kind = "none", id = "", at: [number, number, number] | null = null, moment = "") => ({ of, says, place: { kind, id, at }, moment });

describe("what changed", () => {
  it("is read from the head, either way, in the server's order", () => {
    const head = { changes: [raw("form", "the rise is 1.62 m, 0.07 m more"), raw("blocks", "o3 moved by 2.0 mm", "block", "o3", [1, 2, 3], "cut")], back: [raw("form", "the rise is 1.55 m, 0.07 m less")] };
    const list = readChanges(head, "changes");
    expect(list.map((each) => each.says)).toEqual(["the rise is 1.62 m, 0.07 m more", "o3 moved by 2.0 mm"]);
    expect(list[1]?.place).toEqual({ kind: "block", id: "o3", at: [1, 2, 3] });
    expect(readChanges(head, "back")[0]?.says).toContain("less");
  });
  it("leaves out what cannot be read", () => {
    expect(readChanges({}, "changes")).toEqual([]);
    expect(readChanges({ changes: "no" }, "changes")).toEqual([]);
    expect(readChanges({ changes: [null, 3, { of: "form" }, { of: "form", says: "x", place: { kind: "tree", id: 4, at: [1, "2", 3] } }] }, "changes")).toEqual([
      { of: "form", says: "x", moment: "", place: { kind: "none", id: "", at: null } },
    ]);
  });
  it("stands under its kind, kinds in the order they come", () => {
    const list = readChanges({ changes: [raw("form", "a"), raw("blocks", "b"), raw("form", "c"), raw("whatever", "d")] }, "changes");
    expect(byKind(list).map((kind) => [kind.title, kind.list.length])).toEqual([["Form", 2], ["Blocks", 1], ["whatever", 1]]);
  });
  it("is told in one sentence, what was not compared left out of the count", () => {
    const kinds = byKind(readChanges({ changes: [raw("form", "a"), raw("not compared", "b"), raw("brief", "c")] }, "changes"));
    expect(summary(kinds)).toBe("2 differences: form and the brief itself.");
    expect(summary(byKind([]))).toBe("Nothing differs by as much as the last figure shown.");
    expect(summary(byKind(readChanges({ changes: [raw("not compared", "b")] }, "changes")))).toContain("Nothing differs");
  });
  it("leads somewhere only where there is a place", () => {
    const one = (kind: string, at: [number, number, number] | null, moment: string): Change => readChanges({ changes: [raw("x", "says", kind, "id", at, moment)] }, "changes")[0] as Change;
    expect(leads(one("none", null, ""))).toBe(false);
    expect(leads(one("none", [0, 0, 1], ""))).toBe(true);
    expect(leads(one("key", null, "drawn"))).toBe(true);
    expect(leads(one("tie", null, "footings"))).toBe(true);
  });
});

describe("other briefs", () => {
  it("are names, or none where the server tells none", () => {
    expect(readBriefs({ briefs: ["a.toml", 3, "b.toml"] })).toEqual(["a.toml", "b.toml"]);
    expect(readBriefs({ briefs: [] })).toEqual([]);
    expect(readBriefs({ faults: [] })).toBeNull();
    expect(readBriefs(null)).toBeNull();
  });
});
