import { describe, expect, it } from "vitest";
import { figure, nudge, step125, toField, toToml } from "./keytext";

describe("a key's text", () => {
  it("goes into a field and back", () => {
    for (const text of ['"1.6 m"', '"8 ft"', "0.6", "true", '[["1 m", "2 m"]]']) {
      const written = text.startsWith('"') ? "quantity" : "other";
      expect(toToml(toField(text), written)).toBe(text);
    }
    expect(toField("'45 mm'")).toBe("45 mm");
    expect(toToml("smooth", "other")).toBe('"smooth"');
    expect(toToml("23", "whole")).toBe("23");
    expect(toToml("  ", "quantity")).toBe("");
  });
  it("cannot break out of its quotes", () => {
    expect(toToml('1 m"\n[evil]', "quantity")).toBe('"1 m\\" [evil]"');
    expect(toToml("a\\", "other")).toBe('"a\\\\"');
  });
  it("keeps a text with an escape as it stands", () => {
    const text = '"a \\"word\\" in it"';
    expect(toToml(toField(text), "other")).toBe(text);
  });
  it("has a number to nudge, or none", () => {
    expect(figure("1.60 m")).toEqual({ value: 1.6, decimals: 2, rest: " m" });
    expect(figure("8 ft 2 in")).toBeNull();
    expect(figure("smooth")).toBeNull();
    expect(figure("-0.3 m")?.value).toBe(-0.3);
    expect(figure("2250 kg/m3")?.rest).toBe(" kg/m3");
  });
});

describe("a nudge", () => {
  it("steps by 1, 2 or 5", () => {
    expect(step125(0.031)).toBeCloseTo(0.02, 12);
    expect(step125(0.9)).toBeCloseTo(0.5, 12);
    expect(step125(1)).toBe(1);
  });
  it("lands on round numbers, keeps the unit, and is undone by the other way", () => {
    expect(nudge("1.55 m", 1, false, "quantity")).toBe("1.56 m");
    expect(nudge("1.56 m", 1, false, "quantity")).toBe("1.58 m");
    expect(nudge("1.58 m", -1, false, "quantity")).toBe("1.56 m");
    expect(nudge("45 mm", 1, false, "quantity")).toBe("45.5 mm");
    expect(nudge("1.55 m", 1, true, "quantity")).toBe("1.60 m");
    expect(nudge("450 kg", -1, false, "quantity")).toBe("445 kg");
    expect(nudge("-0.30 m", 1, false, "quantity")).toBe("-0.295 m");
    expect(nudge("0 m", 1, false, "quantity")).not.toBe("0 m");
  });
  it("moves whole numbers by one or ten, and leaves texts alone", () => {
    expect(nudge("23", 1, false, "whole")).toBe("24");
    expect(nudge("23", -1, true, "whole")).toBe("13");
    expect(nudge("smooth", 1, false, "other")).toBeNull();
  });
  it("always moves the way it is pressed", () => {
    for (let i = -400; i < 400; i++) {
      const text = `${(i * 0.037).toFixed(3)} m`;
      const up = figure(nudge(text, 1, false, "quantity") ?? ""), down = figure(nudge(text, -1, false, "quantity") ?? "");
      expect(up?.value, text).toBeGreaterThan(Number(text.slice(0, -2)));
      expect(down?.value, text).toBeLessThan(Number(text.slice(0, -2)));
    }
  });
});
