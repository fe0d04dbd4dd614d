import { describe, expect, it } from "vitest";
import { clockAhead, here, lasting, onThisClock, momentText, readMoment, shortTime } from "./moment";

describe("moments", () => {
  it("are written with their zone, to the second", () => {
    const time = Date.UTC(2027, 2, 5, 13, 20, 0);
    expect(momentText(time, 60)).toBe("2027-03-05T14:20:00+01:00");
    expect(momentText(time + 999, 0)).toBe("2027-03-05T13:20:00+00:00");
    expect(momentText(time, -210)).toBe("2027-03-05T09:50:00-03:30");
    expect(momentText(Date.UTC(2027, 11, 31, 23, 30), 60)).toBe("2028-01-01T00:30:00+01:00");
  });
  it("come back the same from what was written, whatever the zone", () => {
    let state = 7;
    for (let i = 0; i < 500; ++i) {
      state = (state * 48271) % 2147483647;
      const time = state * 1000;
      const zone = (state % 105) * 15 - 720;
      expect(readMoment(momentText(time, zone)), `seed 7, draw ${i}`).toBe(time);
    }
  });
  it("are nothing else", () => {
    for (const text of ["", "yesterday", "2027-03-05", "2027-03-05T14:20:00", "2027-13-05T14:20:00Z"]) expect(readMoment(text)).toBeNull();
  });
  it("tell how far the server's clock is ahead", () => {
    expect(clockAhead("2027-03-05T13:20:00Z", Date.UTC(2027, 2, 5, 13, 19, 30))).toBe(30_000);
    expect(clockAhead("nonsense", 0)).toBe(0);
  });
  it("are put on this phone's clock where they stand in a sentence", () => {
    expect(readMoment(here("2027-03-05T13:20:00Z"))).toBe(Date.UTC(2027, 2, 5, 13, 20));
    const said = onThisClock("found 2027-03-05T13:20:00Z, before it was cured; expected 2027-03-05T13:25:00Z or later", "2027-03-05T13:30:00Z");
    expect(said).toMatch(/^found \d\d:\d\d:00, before it was cured; expected \d\d:\d\d:00 or later$/);
    expect(here("nonsense")).toBe("nonsense");
  });
  it("are said shortly", () => {
    expect(shortTime("2027-03-05T14:20:31+01:00", "2027-03-05T16:00:00+01:00")).toBe("14:20");
    expect(shortTime("2027-03-05T14:20:31+01:00", "2027-03-06T16:00:00+01:00")).toBe("5 March, 14:20");
    expect(shortTime("2026-03-05T14:20:31+01:00", "2027-03-06T16:00:00+01:00")).toBe("5 March 2026, 14:20");
    expect([59, 3600, 5400, 86400, 6.5 * 86400].map(lasting)).toEqual(["1 minute", "1 hour", "1.5 hours", "24 hours", "6.5 days"]);
  });
});
