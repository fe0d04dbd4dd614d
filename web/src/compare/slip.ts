// "Lay another over it": a brief of the same folder as thin grey lines over this one, and what
// changed in words.

import "./compare.css";
import { button, make } from "../dom";
import { Refused } from "../source";
import type { Sheaf } from "../sheaf";
import type { Desk, Slip } from "../slips";
import { byKind, leads, readBriefs, readChanges, summary, type Change, type Kind, type Way } from "./changes";
import { goTo } from "./go";

const kShownOfAKind = 8;
const kOverlay = "another version";

interface Laid {
  sheaf: Sheaf;
  name: string;
  revision: number; // of the bridge on the page, when it was asked for
  lines: boolean;
  way: Way;
}
const kept = new WeakMap<Desk, Laid>();

export const compareSlip: Slip = {
  name: "compare", title: "Lay another over it", key: "o",
  mount(into, desk) {
    const slip = new CompareSlip(into, desk);
    return () => slip.clear();
  },
};

class CompareSlip {
  private readonly told = make("p", "slip-told");
  private readonly found = make("div", "compare-found");
  private readonly choice = make("div", "slip-line");
  private readonly lay = button("lay it over", () => void this.fetch());
  private field: HTMLSelectElement | HTMLInputElement = make("input", "");
  private waiting: AbortController | null = null;
  private readonly unwatch: () => void;

  constructor(into: HTMLElement, private readonly desk: Desk) {
    this.told.setAttribute("role", "status");
    into.append(make("p", "slip-hint", "Another brief of this folder, as thin grey lines over this one, and what changed."), this.choice, this.told, this.found);
    this.choice.append(make("p", "", "Looking for other briefs in this folder …"));
    desk.api.source.json("/api/compare").then((answer) => this.choose(readBriefs(answer)), () => this.choose(null));
    this.unwatch = desk.store.watch((now) => now.state?.revision, () => this.draw());
  }
  clear(): void {
    this.waiting?.abort();
    this.unwatch();
    this.desk.structure.overlay(kOverlay, null);
  }

  /** `briefs` null: the server tells none, the name is typed. */
  private choose(briefs: readonly string[] | null): void {
    const was = kept.get(this.desk)?.name ?? "";
    const label = make("label", "", "Brief");
    if (briefs !== null && briefs.length === 0) {
      this.choice.replaceChildren(make("p", "", "There is no other brief in this folder. Save this one under another name first, then change it."));
      return;
    }
    if (briefs === null) {
      const input = make("input", "");
      input.type = "text";
      input.placeholder = "name of a brief in this folder";
      this.field = input;
    } else {
      const select = make("select", "");
      for (const name of briefs) select.append(new Option(name, name));
      this.field = select;
    }
    this.field.id = "compare-with";
    if (was !== "") this.field.value = was;
    label.htmlFor = this.field.id;
    this.choice.replaceChildren(label, this.field, this.lay);
  }

  private async fetch(): Promise<void> {
    const name = this.field.value.trim();
    if (name === "") return this.say("Choose a brief first.");
    this.waiting?.abort();
    const waiting = (this.waiting = new AbortController());
    this.lay.disabled = true;
    this.say(`${name} is being worked out…`);
    try {
      const revision = this.desk.store.get().state?.revision ?? 0;
      const sheaf = await this.desk.api.compare(name);
      if (waiting.signal.aborted) return;
      const before = kept.get(this.desk);
      kept.set(this.desk, { sheaf, name, revision, lines: true, way: before?.way ?? "changes" });
      this.draw();
    } catch (error) {
      if (!waiting.signal.aborted) this.say(error instanceof Refused && error.message !== "" ? error.message : `${name} could not be laid over.`);
    } finally {
      this.lay.disabled = false;
    }
  }
  private say(words: string): void {
    this.told.textContent = words;
  }

  private draw(): void {
    const laid = kept.get(this.desk);
    const { structure, store } = this.desk;
    if (laid === undefined) return;
    structure.overlay(kOverlay, laid.lines ? { lines: laid.sheaf.f32("lines"), colour: "quiet", faint: true, says: `${laid.name}, laid over` } : null);
    const kinds = byKind(readChanges(laid.sheaf.head, laid.way));
    const revision = store.get().state?.revision ?? laid.revision;
    this.say(summary(kinds));
    const stale = revision === laid.revision ? [] : [make("p", "stale-words", `Stale: these are of revision ${laid.revision}, the page is at ${revision}. Lay it over again.`)];
    this.found.replaceChildren(...stale, this.switches(laid), ...kinds.map((kind) => this.kindList(kind)));
  }
  private switches(laid: Laid): HTMLElement {
    const box = make("fieldset", "compare-ways");
    box.append(make("legend", "", `${laid.name} and this one`));
    const ways: [Way, string][] = [["changes", "from that one to this one"], ["back", "from this one to that one"]];
    for (const [way, words] of ways) {
      const radio = make("input", "");
      radio.type = "radio";
      radio.name = "compare-way";
      radio.checked = laid.way === way;
      radio.addEventListener("change", () => this.turn({ ...laid, way }));
      box.append(make("label", "", undefined, radio, ` ${words}`));
    }
    const lines = make("input", "");
    lines.type = "checkbox";
    lines.checked = laid.lines;
    lines.addEventListener("change", () => this.turn({ ...laid, lines: lines.checked }));
    box.append(make("label", "", undefined, lines, " its lines over the picture"));
    return box;
  }
  private turn(laid: Laid): void {
    const index = [...this.found.querySelectorAll("input")].findIndex((input) => input === document.activeElement);
    kept.set(this.desk, laid);
    this.draw();
    if (index >= 0) this.found.querySelectorAll("input")[index]?.focus();
  }
  private kindList(kind: Kind): HTMLElement {
    const part = make("section", "compare-kind");
    part.append(make("h3", "", kind.title));
    const list = make("ol", "");
    const put = (some: readonly Change[]): void => list.append(...some.map((each) => make("li", "", undefined, this.line(each))));
    put(kind.list.slice(0, kShownOfAKind));
    part.append(list);
    const rest = kind.list.slice(kShownOfAKind);
    if (rest.length === 0) return part;
    const more = button(`and ${rest.length} more`, () => {
      more.remove();
      put(rest);
      list.children[kShownOfAKind]?.querySelector("button")?.focus();
    });
    part.append(more);
    return part;
  }
  private line(change: Change): HTMLElement {
    if (!leads(change)) return make("span", "", change.says);
    return button(change.says, () => goTo(this.desk, change), "compare-change");
  }
}
