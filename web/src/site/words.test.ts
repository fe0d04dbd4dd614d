import { describe, expect, it } from "vitest";
import type { NextEvent } from "./types";
import { eventWords, holdsUp, listed, ordinal, placedOver, sorted, withoutAdvice } from "./words";

const next = (event: string, allowed: boolean, even_so = false): NextEvent => ({
  event, allowed, even_so, objection: allowed ? null : { found: "", expected: "", says: "no" },
});

describe("what may be written next", () => {
  it("puts what moves the work on first, the rest behind", () => {
    const { usual, more } = sorted([
      next("printed", false), next("cured", false), next("checked", true), next("packed", true), next("shipped", true),
      next("received", false, true), next("broken", true), next("note", true), next("placed", false, true),
    ]);
    expect(usual.map((n) => n.event)).toEqual(["shipped", "packed", "checked"]);
    expect(more.map((n) => n.event)).toEqual(["received", "broken", "placed"]);
  });
});

describe("sentences", () => {
  it("leave out advice that cannot be followed", () => {
    expect(withoutAdvice("b2: found 14:00, before it was broken; expected 14:05 or later; mend its time, or say even so.")).toBe("b2: found 14:00, before it was broken; expected 14:05 or later.");
    expect(withoutAdvice("b2: found cured; expected printed.")).toBe("b2: found cured; expected printed.");
  });
  it("say which block stands over what is not there", () => {
    expect(placedOver({ block: "key", missing: ["a2", "b2"] })).toBe(
      "key is written down as placed, but what must be there before it is not: a2, b2. Look, then correct what is written or what is built.",
    );
  });
  it("say what holds the work up", () => {
    const missing = { name: "yard-02", standing: "printed", ready_s: 6 * 86400, held_back: 31, held_on_site: 4 };
    expect(holdsUp(missing)).toBe(
      "yard-02 is the first that is missing: printed. It could be here in 6 days by the likely times. 31 more cannot be placed before it, 4 of them on site.",
    );
    expect(holdsUp({ ...missing, standing: "broken", ready_s: 0, held_back: 0 })).toBe(
      "yard-02 is the first that is missing: broken. It should be here by now. No other block waits for it.",
    );
    expect(holdsUp(null)).toBe("All that is left is on site.");
  });
  it("name events and counts", () => {
    const event = { number: 4, name: "key", block: "key", copy: 1, event: "taken-down", when: "", written: "", who: null, note: null, photo: null, cancels: null, taken_back: true };
    expect(eventWords(event)).toBe("key: taken down (taken back)");
    expect(eventWords({ ...event, event: "cancel", cancels: 3, taken_back: false })).toBe("key: takes back no. 3");
    expect([1, 2, 3, 4, 11, 12, 13, 21, 112].map(ordinal)).toEqual(["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "112th"]);
    expect([listed([]), listed(["a"]), listed(["a", "b"]), listed(["a", "b", "c"])]).toEqual(["", "a", "a and b", "a, b and c"]);
  });
});
