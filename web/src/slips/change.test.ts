import { describe, expect, it } from "vitest";
import type { Key, Keys } from "../api";
import { glance, isAbout, openAtFirst, shownGroups } from "./change";
import { faultText } from "../source";
import { looksWhole, plainName } from "./field";
import { fit } from "./find";

const key = (name: string, text: string, given: boolean, meaning = "", written: Key["written"] = "quantity"): Key => ({ key: name, text, value: null, unit: "", meaning, written, given });
const keys: Keys = { revision: 1, groups: [
  { name: "Form", keys: [key("form.rise", '"1.55 m"', true, "of the middle surface at the meeting"), key("form.evenness", "1", false, "weight on evenness of force", "number")] },
  { name: "Joints", keys: [key("joints.pad_thickness", '"8 mm"', true, "of the elastomer between blocks")] },
  { name: "Winter", keys: [key("loads.snow", '"0 kPa"', false, "on the ground, in plan")] },
] };
const names = (groups: Keys["groups"]): string[] => groups.flatMap((g) => g.keys.map((k) => k.key));

describe("what can be changed", () => {
  it("shows what is given, all when asked, and whatever is sought", () => {
    expect(names(shownGroups(keys, "", false))).toEqual(["form.rise", "joints.pad_thickness"]);
    expect(names(shownGroups(keys, "", true))).toHaveLength(4);
    const listed: Keys = { revision: 1, groups: [{ name: "plan", keys: [key("plan.outline", '[["1 m", "2 m"]]', true, "", "other"), key("plan.outline[1][1]", '"1 m"', true)] }] };
    expect(names(shownGroups(listed, "", false))).toEqual([]);
    expect(names(shownGroups(listed, "outline", false))).toEqual(["plan.outline"]);
    expect(names(shownGroups(listed, "outline[1]", false))).toEqual(["plan.outline[1][1]"]);
    expect(names(shownGroups(keys, "even", false))).toEqual(["form.evenness"]);
    expect(names(shownGroups(keys, "elasto pad", false))).toEqual(["joints.pad_thickness"]);
    expect(names(shownGroups(keys, "wint", false))).toEqual(["loads.snow"]);
    expect(shownGroups(keys, "xyzzy", true)).toEqual([]);
  });
  it("opens the shape's own groups first", () => {
    expect(openAtFirst(["plan", "form", "section"])).toEqual(["form", "section"]);
    expect(openAtFirst(["a", "b", "c"])).toEqual(["a", "b"]);
  });
  it("counts a key before a meaning", () => {
    const rise = { key: "form.rise", meaning: "" }, other = { key: "form.x", meaning: "the rise" };
    expect(fit(rise, "rise")).toBeGreaterThan(fit(other, "rise"));
    expect(fit(rise, "")).toBe(1);
  });
  it("names keys plainly and says what a closed group holds", () => {
    expect(plainName("plan.support[2].level")).toBe("support 2, level");
    expect(plainName("section.depth_crown")).toBe("depth crown");
    expect(glance(keys.groups[0]?.keys ?? [])).toBe("rise 1.55 m");
  });
  it("sends by itself only what is a number with its unit", () => {
    expect(looksWhole("1.6 m", "quantity")).toBe(true);
    expect(looksWhole("1.6", "quantity")).toBe(false);
    expect(looksWhole("1.", "number")).toBe(false);
    expect(looksWhole("0.6", "number")).toBe(true);
    expect(looksWhole("smooth", "other")).toBe(false);
  });
  it("puts a fault beside the key it is about", () => {
    expect(isAbout("form.rise", "form.rise")).toBe(true);
    expect(isAbout("plan.outline[3]", "plan.outline")).toBe(true);
    expect(isAbout("form.rise_x", "form.rise")).toBe(false);
    expect(isAbout(undefined, "form.rise")).toBe(false);
    expect(faultText({ says: "no such unit", found: "3 furlong", expected: "a length" })).toBe("No such unit. Found: 3 furlong. Expected: a length.");
  });
});
