// The line at the top: which bridge, which revision, what is going on; undo, redo, save as.

import type { LodgeState, PartKnown, PartName } from "./api";
import { button, make } from "./dom";
import { Refused } from "./source";
import type { Desk } from "./slips";
import { isDraft, takeState, wordsOf } from "./state";

const kPartWords = { shape: "the shape", blocks: "the blocks", proof: "the proof", whole: "the whole" } as const;
const kParts: readonly PartName[] = ["shape", "blocks", "proof", "whole"];

/** What is stale, a draft, or did not come out, in one sentence; empty: all that was worked out is fresh. */
export function freshWords(state: LodgeState): string {
  const names = (is: (part: PartKnown) => boolean): string[] => kParts.filter((name) => is(state.parts[name])).map((name) => kPartWords[name]);
  const draft = (part: PartKnown): boolean => isDraft(part, state.revision);
  const told: [string[], string, string][] = [
    [names((part) => part.failed !== ""), "did not come out", "did not come out"],
    [names(draft), "is a draft", "are drafts"],
    [names((part) => part.failed === "" && part.of !== null && !part.fresh && !draft(part)), "is stale", "are stale"],
  ];
  return told.filter(([list]) => list.length > 0).map(([list, one, many]) => `${joined(list)} ${list.length === 1 ? one : many}`).join("; ");
}
function joined(names: string[]): string {
  return names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names[names.length - 1] as string}`;
}
/** The first of shape, blocks and proof that is not of the newest revision, else the whole: in that order the server works. */
export function onItsWay(state: LodgeState): PartName {
  return kParts.find((name) => name !== "whole" && !state.parts[name].fresh && state.parts[name].failed === "") ?? "whole";
}
/** "working on the proof: stand, 25 %" */
export function workWords(state: LodgeState): string {
  if (state.busy === null) return "";
  const { stage, fraction } = state.busy;
  const part = onItsWay(state);
  const parts = [stage === part || stage === "" ? "" : stage, fraction > 0 ? `${Math.round(100 * Math.min(1, fraction))} %` : ""].filter((each) => each !== "");
  return `working on ${kPartWords[part]}${parts.length === 0 ? "" : `: ${parts.join(", ")}`}`;
}

export class Header {
  private readonly title = make("h1", "title");
  private readonly facts = make("span", "facts");
  private readonly work = make("span", "work");
  private readonly bar = make("progress", "bar");
  private readonly stop: HTMLButtonElement;
  private readonly undo: HTMLButtonElement;
  private readonly redo: HTMLButtonElement;
  private readonly tools = make("span", "tools");

  constructor(place: HTMLElement, private readonly desk: Desk, private readonly places: { note: HTMLElement; trouble: HTMLElement }) {
    const { api } = desk;
    this.bar.max = 1;
    this.bar.setAttribute("aria-label", "how far the work is");
    this.stop = button("stop", () => this.tryIt(api.stop()), "stop", "Stop the work");
    this.undo = button("undo", () => void desk.hand.undo());
    this.redo = button("redo", () => void desk.hand.redo());
    this.tools.append(this.undo, this.redo, button("save as…", () => this.save()));
    place.append(this.title, this.facts, this.work, this.bar, this.stop);
    if (api.source.live) place.append(this.tools);
    desk.store.watch((now) => now.state, () => this.draw());
    desk.store.watch((now) => now.server === "gone", () => this.draw());
    desk.store.watch((now) => now.note, (words) => this.tell(words));
    desk.store.watch((now) => now.trouble, (words) => this.trouble(words));
  }
  private draw(): void {
    const { state, server } = this.desk.store.get();
    this.title.textContent = state?.title ?? "";
    const busy = server === "gone" ? null : (state?.busy ?? null); // of one that is gone nobody knows what it does
    this.work.textContent = state === null || busy === null ? "" : workWords(state);
    this.bar.hidden = busy === null;
    if (busy !== null && busy.fraction > 0) this.bar.value = busy.fraction;
    else this.bar.removeAttribute("value");
    this.stop.hidden = busy === null || !this.desk.api.source.live;
    if (state === null) return;
    document.title = `${state.title || state.name}, lodge`;
    const stale = freshWords(state);
    const saved = this.desk.api.source.live && !state.saved ? ", not saved" : "";
    this.facts.textContent = `revision ${state.revision}${saved}${stale === "" ? "" : `; ${stale}`}`;
    this.facts.title = state.file;
    for (const [deed, may, none] of [[this.undo, state.undo, "There is nothing to take back."], [this.redo, state.redo, "There is nothing to bring back."]] as const) {
      deed.disabled = !may || server === "gone";
      deed.title = server === "gone" ? "The server does not answer." : may ? "" : none;
    }
  }
  /** Goes by itself, so that the next one is told even if it is the same. */
  private tell(words: string): void {
    this.places.note.textContent = words;
    clearTimeout(this.noteEnds);
    if (words !== "") this.noteEnds = window.setTimeout(() => this.desk.store.set({ note: "" }), 8000);
  }
  private noteEnds = 0;
  /** Stays until someone has read it. */
  private trouble(words: string): void {
    const { trouble } = this.places;
    trouble.hidden = words === "";
    trouble.replaceChildren(...(words === "" ? [] : [make("span", "", words), button("dismiss", () => this.desk.store.set({ trouble: "" }))]));
  }
  private tryIt(answer: Promise<unknown>): void {
    answer.then(
      (told) => {
        if (isState(told)) takeState(this.desk.store, told);
        this.desk.store.set({ trouble: "" });
      },
      (error: unknown) => this.desk.store.set({ trouble: wordsOf(error) }),
    );
  }
  private save(): void {
    const { store, api } = this.desk;
    const form = make("form", "save");
    const field = make("input", "");
    field.name = "name";
    field.required = true;
    field.pattern = "[A-Za-z0-9_\\-]+(\\.toml)?";
    field.title = "letters, figures, - and _";
    field.value = `${store.get().state?.name ?? "bridge"}-${store.get().state?.revision ?? 1}`;
    const told = make("p", "told");
    told.setAttribute("role", "alert");
    const dialog = make("dialog", "paper");
    const keep = make("button", "", "save");
    keep.type = "submit";
    form.append(make("label", "", "Name of the new brief, beside the old one: ", field), told, keep, button("not now", () => dialog.close()));
    field.addEventListener("input", () => (told.textContent = ""));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      api.save(field.value).then(
        () => {
          store.set({ note: `Saved as ${field.value.replace(/\.toml$/, "")}.toml.`, trouble: "" });
          dialog.close();
        },
        (error: unknown) => (told.textContent = error instanceof Refused ? error.message : String(error)),
      );
    });
    dialog.append(form);
    dialog.addEventListener("close", () => dialog.remove());
    document.body.append(dialog);
    dialog.showModal();
    field.select();
  }
}
function isState(told: unknown): told is LodgeState {
  return typeof told === "object" && told !== null && "parts" in told && "revision" in told;
}
