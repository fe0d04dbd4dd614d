import { describe, expect, it } from "vitest";
import type { KeyChange, LodgeState } from "../api";
import { Refused } from "../source";
import { Store } from "../state";
import { deedOf, Hand, type Said } from "./hand";

const part = { of: 1, fresh: true, failed: "", took_s: 0 };
const stateOf = (revision: number, undo: boolean, redo: boolean): LodgeState => ({
  name: "n", title: "N", file: "n.toml", folder: ".", revision, saved: false, undo, redo, busy: null, daybook: false,
  parts: { shape: part, blocks: part, proof: part, whole: part },
});

/** A brief of one number a key, with undo; answers as docs/lodge.md says. */
class Server {
  revision = 1;
  past: Record<string, string>[] = [];
  future: Record<string, string>[] = [];
  now: Record<string, string> = { "form.rise": '"1.6 m"' };
  requests: string[] = [];
  private at = (): LodgeState => stateOf(this.revision, this.past.length > 0, this.future.length > 0);
  state = (): Promise<LodgeState> => Promise.resolve(this.at());
  edit = (revision: number, changes: KeyChange[]): Promise<LodgeState> => {
    this.requests.push(`edit ${changes.map((c) => c.text).join()}`);
    if (revision !== this.revision) return Promise.reject(new Refused(409, [{ says: "The revision has moved on.", key: "revision" }]));
    if (changes.some((c) => c.text.includes("furlong"))) return Promise.reject(new Refused(400, [{ says: "no such unit", key: changes[0]?.key ?? "", found: "furlong", expected: "a length" }]));
    this.past.push({ ...this.now });
    this.future = [];
    for (const c of changes) this.now[c.key] = c.text;
    this.revision++;
    return this.state();
  };
  private turn(from: Record<string, string>[], to: Record<string, string>[], word: string): Promise<LodgeState> {
    this.requests.push(word);
    const next = from.pop();
    if (next) {
      to.push(this.now);
      this.now = next;
      this.revision++;
    }
    return this.state();
  }
  undo = (): Promise<LodgeState> => this.turn(this.past, this.future, "undo");
  redo = (): Promise<LodgeState> => this.turn(this.future, this.past, "redo");
}

const setUp = (): { server: Server; store: Store; hand: Hand; said: Said[]; time: { ms: number } } => {
  const server = new Server(), store = new Store(), said: Said[] = [], time = { ms: 0 };
  store.set({ state: stateOf(1, false, false) });
  const hand = new Hand({ api: server, store }, () => time.ms);
  hand.subscribe((s) => said.push(s));
  return { server, store, hand, said, time };
};
const rise = (text: string): KeyChange[] => [{ key: "form.rise", text }];
const settle = async (): Promise<void> => {
  for (let i = 0; i < 30; i++) await Promise.resolve();
};

describe("the hand on the brief", () => {
  it("sends the newest of a group only, in order, with the revision it knows", async () => {
    const { server, store, hand } = setUp();
    for (const r of ["1.61", "1.62", "1.63"]) hand.change("form.rise", rise(`"${r} m"`));
    await settle();
    expect(server.requests).toEqual(['edit "1.61 m"', 'edit "1.63 m"']);
    expect(store.get().state?.revision).toBe(3);
  });
  it("brings faults back to whoever changed, and nothing has changed", async () => {
    const { server, hand, said } = setUp();
    hand.change("form.rise", rise('"3 furlong"'));
    await settle();
    expect(said).toMatchObject([{ kind: "faults", group: "form.rise", faults: [{ found: "furlong" }] }]);
    expect(server.now["form.rise"]).toBe('"1.6 m"');
  });
  it("gives back all that found no answer, what waited behind it too", async () => {
    const { server, hand, said } = setUp();
    server.edit = () => Promise.reject(new Refused(0, [{ says: "The server does not answer." }]));
    hand.change("form.rise", rise('"1.4 m"'));
    hand.change("form.span", [{ key: "form.span", text: '"7 m"' }]);
    await settle();
    expect(said).toEqual([{ kind: "gone", changes: [...rise('"1.4 m"'), { key: "form.span", text: '"7 m"' }], says: "The server did not answer." }]);
  });
  it("takes the newest state when someone else was first, and says so", async () => {
    const { server, store, hand, said } = setUp();
    await server.edit(1, rise('"1.9 m"'));
    hand.change("form.rise", rise('"1.7 m"'));
    await settle();
    expect(said.map((s) => s.kind)).toEqual(["moved"]);
    expect(store.get().state?.revision).toBe(2);
    expect(store.get().trouble).toContain("changed elsewhere");
    expect(server.now["form.rise"]).toBe('"1.9 m"');
  });
  it("takes a whole drag back with one undo, and brings it on with one redo", async () => {
    const { server, hand, time } = setUp();
    hand.hold("form.rise");
    for (const r of ["1.61", "1.62", "1.63", "1.64"]) {
      hand.change("form.rise", rise(`"${r} m"`));
      await settle();
      time.ms += 5000;
    }
    await hand.letGo("form.rise");
    hand.change("form.rise", rise('"1.7 m"'));
    await settle();
    await hand.undo();
    expect(server.now["form.rise"]).toBe('"1.64 m"');
    await hand.undo();
    expect(server.now["form.rise"]).toBe('"1.6 m"');
    await hand.redo();
    expect(server.now["form.rise"]).toBe('"1.64 m"');
    await hand.redo();
    expect(server.now["form.rise"]).toBe('"1.7 m"');
  });
  it("takes single steps back where another page changed the brief meanwhile", async () => {
    const { server, store, hand } = setUp();
    hand.hold("form.rise");
    for (const r of ["1.61", "1.62"]) {
      hand.change("form.rise", rise(`"${r} m"`));
      await settle();
    }
    await hand.letGo("form.rise");
    store.set({ state: await server.edit(3, rise('"2 m"')) });
    await hand.undo();
    expect(server.now["form.rise"]).toBe('"1.62 m"');
    await hand.undo();
    expect(server.now["form.rise"]).toBe('"1.61 m"');
  });
  it("counts quick changes of one field as one deed, slow ones apart", async () => {
    const { server, hand, time } = setUp();
    for (const [r, pause] of [["1.61", 100], ["1.62", 100], ["1.63", 9000], ["1.64", 0]] as const) {
      hand.change("form.rise", rise(`"${r} m"`));
      await settle();
      time.ms += pause;
    }
    await hand.undo();
    expect(server.now["form.rise"]).toBe('"1.63 m"');
    await hand.undo();
    expect(server.now["form.rise"]).toBe('"1.6 m"');
  });
  it("knows the keys", () => {
    const press = (key: string, shiftKey: boolean) => deedOf({ key, shiftKey, ctrlKey: true, metaKey: false, altKey: false });
    expect([press("z", false), press("Z", true), press("y", false), press("x", false)]).toEqual(["undo", "redo", "redo", null]);
    expect(deedOf({ key: "z", shiftKey: false, ctrlKey: false, metaKey: false, altKey: false })).toBeNull();
  });
});
