import { describe, expect, it } from "vitest";
import { EditLog, lastOfEach } from "./editlog";

const set = (key: string, text: string): { key: string; text: string } => ({ key, text });

describe("the changes no file holds", () => {
  it("keeps the last text of each key, in the order last set", () => {
    expect(lastOfEach([set("a", "1"), set("b", "2"), set("a", "3")])).toEqual([set("b", "2"), set("a", "3")]);
  });
  it("forgets a member once the whole is set, not the other way round", () => {
    expect(lastOfEach([set("plan.outline[2]", "x"), set("plan.outline", "y")])).toEqual([set("plan.outline", "y")]);
    expect(lastOfEach([set("plan.outline", "y"), set("plan.outline[2]", "x")])).toEqual([set("plan.outline", "y"), set("plan.outline[2]", "x")]);
    expect(lastOfEach([set("plan.outlines", "y"), set("plan.outline", "x")])).toHaveLength(2);
  });
  it("leaves out what was taken back, and has what was brought back", () => {
    const log = new EditLog();
    log.made([set("a", "1")]);
    log.made([set("b", "2")]);
    log.wentBack(1);
    expect(log.changes()).toEqual([set("a", "1")]);
    log.wentOn(1);
    expect(log.changes()).toEqual([set("a", "1"), set("b", "2")]);
    log.wentBack(5);
    expect(log.changes()).toEqual([]);
    log.wentOn(1);
    log.made([set("c", "3")]);
    log.wentOn(1);
    expect(log.changes()).toEqual([set("a", "1"), set("c", "3")]);
    log.clear();
    expect(log.changes()).toEqual([]);
  });
});
