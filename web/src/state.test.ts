import { describe, expect, it } from "vitest";
import { Store } from "./state";

describe("the store", () => {
  it("tells a watcher at once, then only when its value is another", () => {
    const store = new Store();
    const seen: string[] = [];
    const end = store.watch((now) => now.moment, (moment) => seen.push(moment));
    store.set({ note: "x" });
    store.set({ moment: "cut" });
    store.set({ moment: "cut" });
    end();
    store.set({ moment: "drawn" });
    expect(seen).toEqual(["struck", "cut"]);
  });
  it("gives before and after", () => {
    const store = new Store();
    store.subscribe((now, before) => expect([before.caseId, now.caseId]).toEqual(["", "dead"]));
    store.set({ caseId: "dead" });
    expect.assertions(1);
  });
});
