import { describe, expect, it } from "vitest";
import { Queue, nextToSend, readEntries, type Entry, type NewEntry, type Outcome, type Shelf } from "./queue";

class Paper implements Shelf {
  text: string | null = null;
  full = false;
  read(): string | null {
    return this.text;
  }
  write(text: string): boolean {
    if (!this.full) this.text = text;
    return !this.full;
  }
}

const entry = (block: string, what: string): NewEntry => ({ bridge: "b", block, what, at: "2027-03-05T13:20:00Z", who: "Ada", note: "", even_so: false });

function make(answer: (e: Entry) => Outcome | Promise<Outcome>, paper = new Paper()): { queue: Queue; sent: string[]; paper: Paper } {
  const sent: string[] = [];
  let n = 0;
  const queue = new Queue(
    paper,
    async (e) => {
      sent.push(`${e.block} ${e.what}${e.even_so ? " even so" : ""}`);
      return answer(e);
    },
    () => undefined,
    () => `id${++n}`,
  );
  return { queue, sent, paper };
}
const written: Outcome = { kind: "written" };

describe("what waits to be sent", () => {
  it("goes in order, and is gone once it is written", async () => {
    const { queue, sent, paper } = make(() => written);
    queue.add(entry("a", "printed"));
    queue.add(entry("a", "cured"));
    await queue.flush("b");
    expect(sent).toEqual(["a printed", "a cured"]);
    expect(readEntries(paper.text)).toEqual([]);
  });
  it("stays while nobody answers, and survives the page", async () => {
    const paper = new Paper();
    const first = make(() => ({ kind: "later", says: "gone" }), paper);
    first.queue.add(entry("a", "printed"));
    first.queue.add(entry("b", "printed"));
    await first.queue.flush("b");
    expect(first.sent).toEqual(["a printed"]);
    expect(first.queue.stuck).toBe("gone");
    const second = make(() => written, paper);
    expect(second.queue.list().map((e) => [e.block, e.tried])).toEqual([["a", 1], ["b", 0]]);
    await second.queue.flush("b");
    expect(second.sent).toEqual(["a printed", "b printed"]);
  });
  it("keeps an objection, and holds back what comes after it of the same block", async () => {
    const { queue, sent } = make((e) => (e.what === "placed" && !e.even_so ? { kind: "refused", says: "not yet" } : written));
    const refused = queue.add(entry("a", "placed"));
    queue.add(entry("a/2", "checked"));
    queue.add(entry("b", "printed"));
    await queue.flush("b");
    expect(sent).toEqual(["a placed", "b printed"]);
    expect(queue.list().map((e) => [e.block, e.refused])).toEqual([["a", "not yet"], ["a/2", ""]]);
    await queue.flush("b");
    expect(sent.length).toBe(2);
    queue.evenSo(refused.id);
    await queue.flush("b");
    expect(sent.slice(2)).toEqual(["a placed even so", "a/2 checked"]);
    expect(queue.list()).toEqual([]);
  });
  it("is not sent by two runs at once, and what comes meanwhile goes too", async () => {
    let release: (o: Outcome) => void = () => undefined;
    let running = 0;
    let most = 0;
    const { queue, sent } = make(async (e) => {
      most = Math.max(most, ++running);
      const outcome = e.block === "a" ? await new Promise<Outcome>((resolve) => (release = resolve)) : written;
      --running;
      return outcome;
    });
    queue.add(entry("a", "printed"));
    const one = queue.flush("b");
    queue.add(entry("b", "printed"));
    const two = queue.flush("b");
    release(written);
    await Promise.all([one, two]);
    expect(sent).toEqual(["a printed", "b printed"]);
    expect(most).toBe(1);
  });
  it("is of one bridge only", () => {
    const made = { ...entry("a", "printed"), id: "1", tried: 0, refused: "" };
    expect(nextToSend([made], "b")?.id).toBe("1");
    expect(nextToSend([made], "another")).toBeNull();
  });
  it("is kept in mind where the browser keeps nothing, and the page can say so", async () => {
    const paper = new Paper();
    paper.full = true;
    const { queue, sent } = make(() => written, paper);
    queue.add(entry("a", "printed"));
    expect(queue.keeps).toBe(false);
    await queue.flush("b");
    expect(sent).toEqual(["a printed"]);
    expect(queue.list()).toEqual([]);
  });
  it("is not led astray by what others left there", () => {
    for (const text of ["", "{", "7", "[1, null, {}]", '{"a": []}']) expect(readEntries(text)).toEqual([]);
  });
});
