import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { Question } from "../api";
import { Asking, kRest_ms } from "./asking";
import { Latest } from "./latest";

const soon = async (): Promise<void> => {
  for (let i = 0; i < 8; i++) await Promise.resolve();
};

describe("the latest", () => {
  it("goes one at a time, and of those that wait only the newest", async () => {
    const open: (() => void)[] = [];
    const sent: number[] = [], answered: number[] = [];
    const latest = new Latest<number, number>((q) => new Promise((done) => { sent.push(q); open.push(() => done(q)); }), (a) => answered.push(a), () => undefined);
    for (const q of [1, 2, 3, 4]) latest.ask(q);
    expect(sent).toEqual([1]);
    open.shift()?.();
    await soon();
    expect(sent).toEqual([1, 4]);
    open.shift()?.();
    await soon();
    expect(answered).toEqual([1, 4]);
    expect(latest.working).toBe(false);
  });
  it("does not tell what was forgotten, and goes on after a refusal", async () => {
    const told: string[] = [];
    const latest = new Latest<string, string>((q) => (q === "bad" ? Promise.reject(new Error(q)) : Promise.resolve(q)), (a) => told.push(a), () => told.push("refused"));
    latest.ask("old");
    latest.forget();
    latest.ask("bad");
    await soon();
    latest.ask("good");
    await soon();
    expect(told).toEqual(["refused", "good"]);
  });
});

describe("asking", () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());
  const setUp = () => {
    const sent: Question[] = [], told: string[] = [];
    const asking = new Asking<number>((q) => (sent.push(q), Promise.resolve(sent.length)), {
      answered: ({ quick }) => told.push(quick ? "quick" : "whole"), failed: () => told.push("failed"), asking: () => undefined, empty: () => told.push("empty"),
    }, "dead");
    return { sent, told, asking };
  };
  const person = (x: number): Partial<Question> => ({ persons: [{ at: [x, 0], force_n: 800 }] });

  it("asks quickly while it moves, and wholly once it rests", async () => {
    const { sent, told, asking } = setUp();
    asking.change(person(0), true);
    await soon();
    asking.change(person(0.1), true);
    await soon();
    expect(sent.map((q) => q.quick)).toEqual([true, true]);
    vi.advanceTimersByTime(kRest_ms - 1);
    expect(sent).toHaveLength(2);
    vi.advanceTimersByTime(1);
    await soon();
    expect(sent[2]?.quick).toBeUndefined();
    expect(sent[2]?.persons[0]?.at).toEqual([0.1, 0]);
    expect(told).toEqual(["quick", "quick", "whole"]);
  });
  it("asks nothing when nothing is left to ask, and forgets what is on its way", async () => {
    const { sent, told, asking } = setUp();
    asking.change(person(0), true);
    asking.change({ persons: [] });
    await soon();
    vi.advanceTimersByTime(2 * kRest_ms);
    await soon();
    expect(sent).toHaveLength(1);
    expect(told).toEqual(["empty"]);
  });
  it("does not ask the pads alone about a tie that is out", async () => {
    const { sent, asking } = setUp();
    asking.change({ without_ties: ["west-east"] }, true);
    await soon();
    expect(sent).toHaveLength(0);
    vi.advanceTimersByTime(kRest_ms);
    await soon();
    expect(sent).toHaveLength(1);
    expect(sent[0]?.quick).toBeUndefined();
  });
});
