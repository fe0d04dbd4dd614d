// What everyone must know before going on: the server is gone, or is another one; the file was changed.

import { button, make } from "./dom";
import type { Desk } from "./slips";
import { plainName } from "./slips/field";
import { toField } from "./slips/keytext";
import type { Said } from "./slips/hand";
import { faultText } from "./source";
import { isAnother, takeState, wordsOf } from "./state";
import type { KeyChange, LodgeState } from "./api";

const kGone = "The server does not answer. What you see is the last it said; this page goes on by itself when it is back.";
const kGroup = "put back";

export function watchBars(desk: Desk, places: { gone: HTMLElement; bars: HTMLElement }): void {
  desk.store.watch((now) => now.server, (server) => {
    places.gone.hidden = server !== "gone";
    places.gone.textContent = server === "gone" ? kGone : "";
  });
  if (!desk.api.source.live) return;
  new LostWork(desk, bar(places.bars));
  new FileOnDisk(desk, bar(places.bars));
}

function bar(place: HTMLElement): HTMLElement {
  const made = make("div", "told-bar");
  made.setAttribute("role", "alert");
  made.hidden = true;
  place.append(made);
  return made;
}
function tell(place: HTMLElement, words: string, ...deeds: HTMLButtonElement[]): void {
  place.hidden = false;
  place.replaceChildren(make("span", "", words), ...deeds);
}
function hide(place: HTMLElement): void {
  place.hidden = true;
  place.replaceChildren();
}

/** "rise 6 ft, depth crown 300 mm and 2 more" */
export function inShort(changes: readonly KeyChange[]): string {
  const shown = changes.slice(0, 3).map(({ key, text }) => `${plainName(key)} ${text === "" ? "left to the default" : toField(text)}`.slice(0, 60));
  const rest = changes.length - shown.length;
  return shown.join("; ") + (rest > 0 ? ` and ${rest} more` : "");
}

/** A server that was started anew has the file as it lies on the disk, and nothing else. */
class LostWork {
  private lost: KeyChange[] = [];
  private gone = false; // what was lost was in no file

  constructor(private readonly desk: Desk, private readonly place: HTMLElement) {
    desk.store.subscribe((now, before) => {
      if (now.state !== null && before.state !== null && now.state !== before.state) this.follow(now.state, before.state);
    });
    desk.hand.subscribe((said) => this.said(said));
  }
  private follow(now: LodgeState, before: LodgeState): void {
    const { log } = this.desk.hand;
    if (!isAnother(now, before)) {
      if (now.saved && now.revision === before.revision && !before.saved) log.clear();
      return;
    }
    if (!before.saved) {
      this.lost = this.gone ? this.lost : log.changes();
      this.gone = true;
      this.show();
    } else if (!this.gone) this.desk.store.set({ note: "The server was started anew. Nothing was lost; Undo begins anew too." });
    log.clear();
  }
  private show(): void {
    const first = "The server was started anew: changes that were in no file are gone, and Undo with them.";
    if (this.lost.length === 0) return tell(this.place, `${first} None of them were made on this page.`, button("dismiss", () => this.leave()));
    tell(this.place, `${first} Made on this page were: ${inShort(this.lost)}.`,
      button("put them back", () => this.desk.hand.change(kGroup, this.lost)), button("leave them", () => this.leave()));
  }
  private said(said: Said): void {
    if (said.kind === "gone" || said.group !== kGroup) return;
    if (said.kind === "taken") {
      this.leave();
      this.desk.store.set({ note: "The changes made on this page are there again, in no file yet." });
      return;
    }
    const why = said.kind === "faults" ? said.faults.map(faultText).join(" ") : "The brief was changed elsewhere meanwhile.";
    tell(this.place, `They were not put back: ${why} Nothing was changed.`,
      button("try again", () => this.desk.hand.change(kGroup, this.lost)), button("leave them", () => this.leave()));
  }
  private leave(): void {
    this.lost = [];
    this.gone = false;
    hide(this.place);
  }
}

class FileOnDisk {
  private left = ""; // what was said no to

  constructor(private readonly desk: Desk, private readonly place: HTMLElement) {
    desk.store.watch((now) => (now.server === "gone" ? "" : `${now.state?.since ?? 0} ${now.state?.disk ?? "same"} ${now.state?.saved ?? true}`), () => this.show());
  }
  private show(): void {
    const { state, server } = this.desk.store.get();
    const disk = state?.disk ?? "same";
    const which = `${state?.since ?? 0} ${disk}`;
    if (disk === "same") this.left = "";
    if (state === null || server === "gone" || disk === "same" || this.left === which) return hide(this.place);
    const leave = button("leave it", () => {
      this.left = which;
      hide(this.place);
    });
    const name = nameOf(state.file);
    if (disk === "gone") return tell(this.place, `The file ${name} is no longer on the disk; what is shown is what was read of it last.`, leave);
    const unsaved = state.saved ? "" : " Your own changes since are in no file; Undo brings them back.";
    tell(this.place, `The file ${name} was changed on the disk; what is shown is not it.${unsaved}`, button("take it up", () => void this.take()), leave);
  }
  private async take(): Promise<void> {
    const { api, store, hand } = this.desk;
    const { state } = store.get();
    if (state === null) return;
    try {
      takeState(store, await api.reread(state.revision));
      hand.log.clear();
      store.set({ note: "The file was read again.", trouble: "" });
    } catch (error) {
      store.set({ trouble: `The file was not taken up. ${wordsOf(error)}` });
    }
  }
}
const nameOf = (file: string): string => file.split("/").pop() || file;
