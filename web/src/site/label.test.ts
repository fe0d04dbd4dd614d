import { describe, expect, it } from "vitest";
import { labelTrouble, readLabel } from "./label";

const kText = "SKEWBACK2;wren-leat;yard-03;214 kg;9/49;on yard-02;then yard-04;top up;4 slings 310 mm level from the centre of gravity;5f0c21aa90be";

describe("the label of a block", () => {
  it("is read field by field", () => {
    expect(readLabel(kText)).toEqual({
      bridge: "wren-leat", name: "yard-03", mass: "214 kg", order: "9/49", on: "on yard-02", then: "then yard-04", up: "top up", lifting: "4 slings 310 mm level from the centre of gravity", assembly: "5f0c21aa90be",
    });
    expect(readLabel(` ${kText}\n`)?.name).toBe("yard-03");
    expect(readLabel(kText.replace("yard-03", "yard-03/2"))?.name).toBe("yard-03/2");
  });
  it("is nothing else", () => {
    for (const text of ["", "https://example.org", "SKEWBACK1;" + kText.slice(10), kText + ";more", "SKEWBACK2;a;;1 kg;1/2;on;then;up;no lifting plan;0"])
      expect(readLabel(text)).toBeNull();
  });
  it("of another bridge stops, of another version warns", () => {
    const label = readLabel(kText);
    if (label === null) throw new Error("not read");
    expect(labelTrouble(label, "wren-leat", "5f0c21aa90be")).toEqual({ stop: false, says: "" });
    expect(labelTrouble(label, "drovers-hop", "5f0c21aa90be").stop).toBe(true);
    const older = labelTrouble(label, "wren-leat", "000000000000");
    expect(older.stop).toBe(false);
    expect(older.says).toContain("another version");
  });
});
