import { describe, expect, it } from "vitest";
import { makeApi, type LodgeState, type PartKnown } from "./api";
import { encodeSheaf } from "./sheaf";
import { Refused, type Source } from "./source";
import { Views } from "./views";

const part = (of: number | null): PartKnown => ({ of, fresh: true, failed: "", took_s: 1 });
const state = (proof: number | null, whole: number | null): LodgeState => ({
  name: "", title: "", file: "", folder: "", revision: 9, saved: true, undo: false, redo: false, busy: null, daybook: false,
  parts: { shape: part(1), blocks: part(1), proof: part(proof), whole: part(whole) },
});
/** Answers when told to; counts what was asked. */
function slowSource(): { source: Source; asked: { name: string; answer: (of: number) => void; refuse: (status: number) => void; signal: AbortSignal | undefined }[] } {
  const asked: { name: string; answer: (of: number) => void; refuse: (status: number) => void; signal: AbortSignal | undefined }[] = [];
  const source: Source = {
    live: true,
    view: (name, _query, signal) =>
      new Promise((resolve, reject) => {
        asked.push({ name, signal, answer: (of) => resolve(encodeSheaf({ view: name, of }, {})), refuse: (status) => reject(new Refused(status, [{ says: `no ${name}` }])) });
      }),
    json: () => Promise.reject(new Error("not here")),
    bytes: () => Promise.reject(new Error("not here")),
  };
  return { source, asked };
}
const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

describe("views", () => {
  it("that came as a draft are asked for again when the part is whole", async () => {
    const { source, asked } = slowSource();
    const views = new Views(makeApi(source));
    const draft = state(1, null);
    draft.parts.proof = { ...part(1), fresh: false, draft: "3 of 53 cases are proved so far" };
    views.follow(draft);
    views.want("proof");
    asked[0]?.answer(1);
    await settle();
    views.follow(state(1, null));
    expect(asked.length).toBe(2);
  });
  it("are asked for once a making of their part, and keep the last until the next is here", async () => {
    const { source, asked } = slowSource();
    const views = new Views(makeApi(source));
    expect(views.want("proof").sheaf).toBeNull();
    expect(asked.length, "nothing is asked before the state is known").toBe(0);
    views.follow(state(1, null));
    views.want("proof");
    expect(asked.length).toBe(1);
    asked[0]?.answer(1);
    await settle();
    expect(views.want("proof").sheaf?.head["of"]).toBe(1);
    views.follow(state(1, null));
    expect(asked.length).toBe(1);
    views.follow(state(2, null));
    expect(asked.length).toBe(2);
    expect(views.want("proof").sheaf?.head["of"]).toBe(1);
    asked[1]?.answer(2);
    await settle();
    expect(views.want("proof").sheaf?.head["of"]).toBe(2);
  });
  it("drop an answer that came too late", async () => {
    const { source, asked } = slowSource();
    const views = new Views(makeApi(source));
    views.follow(state(1, null));
    views.want("proof");
    views.follow(state(2, null));
    expect(asked[0]?.signal?.aborted).toBe(true);
    asked[1]?.answer(2);
    await settle();
    asked[0]?.answer(1);
    await settle();
    expect(views.want("proof").sheaf?.head["of"]).toBe(2);
  });
  it("say why there is none, and ask again when the whole is there", async () => {
    const { source, asked } = slowSource();
    const views = new Views(makeApi(source));
    const told: string[] = [];
    views.subscribe((name) => told.push(name));
    views.follow(state(1, null));
    views.want("ground");
    asked[0]?.refuse(404);
    await settle();
    expect(views.want("ground").missing).toBe("No ground.");
    expect(asked.length).toBe(1);
    views.follow(state(1, 1));
    asked[1]?.answer(1);
    await settle();
    expect(views.want("ground").missing).toBe("");
    expect(told).toEqual(["ground", "ground"]);
  });
  it("are asked for again after the server was gone", async () => {
    const { source, asked } = slowSource();
    const views = new Views(makeApi(source));
    views.follow(state(1, null));
    views.want("shape");
    asked[0]?.refuse(0);
    await settle();
    views.want("shape");
    expect(asked.length).toBe(2);
  });
});
