// What everyone must know before going on: the server is gone, or is another one; the file was changed.

import { button, make } from "./dom";
import type { Desk } from "./slips";
import { plainName } from "./slips/field";
import { toField } from "./slips/keytext";
import { lastOfEach } from "./slips/editlog";
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

/** What was changed on this page and is not in the brief: not sent, or of a server that was started anew since. */
class LostWork {
  private lost: KeyChange[] = [];
  private gone = false; // the server was started anew, and what it had was in no file

  constructor(private readonly desk: Desk, private readonly place: HTMLElement) {
    desk.store.subscribe((now, before) => {
      if (now.state !== null && before.state !== null && now.state !== before.state) this.follow(now.state, before.state);
      if (now.server !== before.server && !this.place.hidden) this.show();
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
      this.lost = lastOfEach([...log.changes(), ...this.lost]);
      this.gone = true;
      this.show();
    } else if (!this.gone) this.desk.store.set({ note: "The server was started anew. Nothing was lost; Undo begins anew too." });
    log.clear();
  }
  private show(): void {
    const first = "The server was started anew: changes that were in no file are gone, and Undo with them.";
    const leave = button(this.lost.length === 0 ? "dismiss" : "leave them", () => this.leave());
    if (this.lost.length === 0) return tell(this.place, `${first} None of them were made on this page.`, leave);
    const words = this.gone ? `${first} Made on this page were: ${inShort(this.lost)}.` : `Made on this page and not sent: ${inShort(this.lost)}.`;
    const again = button(this.gone ? "put them back" : "send them", () => this.desk.hand.change(kGroup, this.lost));
    tell(this.place, words, ...(this.desk.store.get().server === "gone" ? [] : [again]), leave);
  }
  private said(said: Said): void {
    if (said.kind === "left") return;
    if (said.kind === "gone") {
      this.lost = lastOfEach([...this.lost, ...said.changes]);
      this.show();
    } else if (said.group !== kGroup) {
      if (said.kind === "taken" && this.lost.length > 0) this.without(said.changes);
    } else if (said.kind === "taken") {
      this.forget();
      this.desk.store.set({ note: "The changes made on this page are there, in no file yet." });
    } else {
      const why = said.kind === "faults" ? said.faults.map(faultText).join(" ") : "The brief was changed elsewhere meanwhile.";
      tell(this.place, `They were not ${this.gone ? "put back" : "taken"}: ${why} Nothing was changed.`,
        button("try again", () => this.desk.hand.change(kGroup, this.lost)), button("leave them", () => this.leave()));
    }
  }
  /** What was set since is not to be set back. */
  private without(since: readonly KeyChange[]): void {
    this.lost = this.lost.filter((one) => !since.some(({ key }) => key === one.key));
    if (this.lost.length === 0) this.forget();
    else this.show();
  }
  private leave(): void {
    this.desk.hand.leave(this.lost);
    this.forget();
  }
  private forget(): void {
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
