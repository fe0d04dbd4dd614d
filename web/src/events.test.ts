import { describe, expect, it } from "vitest";
import { EventCutter, waitBefore } from "./events";

describe("server events", () => {
  it("are the same however the text is cut", () => {
    const text = ": hello\n\nevent: state\ndata: {\"a\":\ndata: 1}\n\nevent: progress\r\ndata: {}\r\n\r\n: quiet\n\n";
    for (let size = 1; size <= text.length; ++size) {
      const cutter = new EventCutter();
      const got = [];
      for (let at = 0; at < text.length; at += size) got.push(...cutter.push(text.slice(at, at + size)));
      expect(got).toEqual([
        { name: "state", data: '{"a":\n1}' },
        { name: "progress", data: "{}" },
      ]);
    }
  });
  it("are not told before they are whole", () => {
    const cutter = new EventCutter();
    expect(cutter.push("event: state\ndata: {}\n")).toEqual([]);
    expect(cutter.push("\n")).toEqual([{ name: "state", data: "{}" }]);
  });
  it("wait longer each time, but never long", () => {
    expect([0, 1, 2, 3, 4, 5, 50].map(waitBefore)).toEqual([0.5, 1, 2, 4, 8, 8, 8]);
  });
});
