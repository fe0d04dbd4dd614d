// Big buttons for what may be written next, and the note that goes with it.

import type { App } from "./app";
import { el, refill } from "./dom";
import type { BlockPage, NextEvent } from "./types";
import { asksTwice, deed, sorted } from "./words";

const kEvents = ["placed", "received", "shipped", "packed", "cured", "printed", "checked", "broken", "taken-down", "reprinted"];

export class Recorder {
  readonly element: HTMLElement;
  private readonly usual = el("div", { class: "deeds" });
  private readonly more = el("div", { class: "deeds" });
  private readonly moreBox = el("details", {}, el("summary", {}, "More"), this.more);
  private readonly says = el("p", { role: "alert" });
  private readonly note = el("textarea", { id: "note", rows: "2", maxlength: "1000", dir: "auto" });
  private asked = ""; // pressed once, of those that must be pressed twice
  private busy = false;
  private last: { page: BlockPage | null; open: boolean } = { page: null, open: true };

  constructor(private readonly app: App, private readonly name: string) {
    const noteButton = el("button", { type: "button", class: "second", click: () => void this.press("note", false) }, "Write the note only");
    this.element = el(
      "section", { class: "recorder", "aria-label": "Write down" },
      this.usual, this.says, el("label", { for: "note" }, "Note"), this.note, noteButton, this.moreBox,
    );
  }

  /** `page` null: not known now; everything is offered, and the server will judge. */
  draw(page: BlockPage | null, open: boolean): void {
    this.last = { page, open };
    this.element.hidden = !open || (page === null && this.app.site.here !== false);
    if (page === null) {
      const isWork = this.app.site.book?.works.some((w) => w.id === this.name) ?? false;
      const all = isWork ? ["done"] : kEvents;
      refill(this.usual, ...all.map((event) => this.button({ event, allowed: true, even_so: false, objection: null }, "second")));
      this.moreBox.hidden = true;
      return;
    }
    const { usual, more } = sorted(page.next);
    refill(this.usual, ...usual.map((n, i) => this.button(n, i === 0 ? "first" : "second")));
    refill(this.more, ...more.map((n) => this.button(n, "second")));
    this.moreBox.hidden = more.length === 0;
  }

  private button(next: NextEvent, kind: string): HTMLElement {
    const twice = next.objection !== null || asksTwice(next.event);
    const asked = this.asked === next.event;
    const insist = next.objection === null ? `Yes: ${deed(next.event).toLowerCase()}` : "Write it even so";
    const says = asked ? insist : deed(next.event) + (next.objection === null ? "" : "…");
    const press = (): void => {
      if (twice && !asked) this.askTwice(next);
      else void this.press(next.event, next.objection !== null);
    };
    return el("button", { type: "button", class: asked ? "asked" : kind, "data-key": next.event, disabled: this.busy, click: press }, says);
  }

  private askTwice(next: NextEvent): void {
    this.asked = next.event;
    this.says.textContent = next.objection === null ? `Press once more if ${this.name} is ${deed(next.event).toLowerCase()}.` : next.objection.says;
    this.draw(this.last.page, this.last.open);
  }

  private async press(event: string, evenSo: boolean): Promise<void> {
    if (this.busy) return;
    if (this.app.who() === "") {
      this.says.textContent = "Say first who you are, at the top of the page.";
      document.getElementById("who")?.focus();
      return;
    }
    const note = this.note.value.trim();
    if (event === "note" && note === "") {
      this.says.textContent = "The note is empty.";
      this.note.focus();
      return;
    }
    this.says.textContent = "";
    this.asked = "";
    this.busy = true;
    this.note.value = ""; // it lies with the entry now
    this.draw(this.last.page, this.last.open);
    await this.app.record(this.name, event, note, evenSo);
    this.busy = false;
    this.draw(this.last.page, this.last.open);
    if (this.app.queue.list().some((e) => e.block === this.name && e.refused !== ""))
      document.getElementById("waiting")?.scrollIntoView();
  }
}
