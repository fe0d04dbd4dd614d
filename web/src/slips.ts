// The place at the right where one slip of paper at a time lies.

import type { Api } from "./api";
import type { Hand } from "./slips/hand";
import type { Store } from "./state";
import type { Nodes } from "./nodes";
import type { Structure } from "./structure/structure";
import type { Views } from "./views";

export interface Desk {
  api: Api;
  store: Store;
  structure: Structure;
  views: Views;
  /** Changes the brief; takes back and brings back. */
  hand: Hand;
  /** The node whose force polygon is shown. */
  nodes: Nodes;
}
/** A module under slips/ gives one. `mount` fills the element and gives back what clears up. */
export interface Slip {
  name: string; // "change"
  title: string; // "Change it"
  key: string; // letter that brings it: "c"
  mount(into: HTMLElement, desk: Desk): () => void;
}

export class SlipPlace {
  private clear: (() => void) | null = null;
  private before: HTMLElement | null = null; // what had the focus
  private open = "";
  constructor(
    private readonly buttons: HTMLElement,
    private readonly place: HTMLElement,
    private readonly slips: readonly Slip[],
    private readonly desk: Desk,
  ) {
    for (const slip of slips) this.buttons.append(this.button(slip));
    desk.store.watch((now) => now.slip, (name) => this.lay(name));
  }
  private button(slip: Slip): HTMLButtonElement {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = slip.title;
    button.dataset["slip"] = slip.name;
    button.title = `${slip.title} (key ${slip.key})`;
    button.addEventListener("click", () => {
      const { store } = this.desk;
      store.set({ slip: store.get().slip === slip.name ? null : slip.name });
    });
    return button;
  }
  private lay(name: string | null): void {
    const active = document.activeElement as HTMLElement | null;
    const inside = this.place.contains(active);
    if (name !== null && this.clear === null) this.before = active;
    this.desk.structure.endPick();
    this.clear?.();
    this.clear = null;
    this.place.replaceChildren();
    const slip = this.slips.find((each) => each.name === name);
    for (const button of this.buttons.querySelectorAll<HTMLButtonElement>("button[data-slip]"))
      button.setAttribute("aria-expanded", String(button.dataset["slip"] === name));
    this.place.hidden = slip === undefined;
    if (slip === undefined) {
      if (inside || active === document.body) this.goBack();
      return;
    }
    this.open = slip.name;
    const heading = document.createElement("h2");
    heading.textContent = slip.title;
    heading.tabIndex = -1;
    const away = document.createElement("button");
    away.type = "button";
    away.className = "away";
    away.textContent = "put away";
    away.addEventListener("click", () => this.desk.store.set({ slip: null }));
    const body = document.createElement("div");
    body.className = "slip-body";
    this.place.setAttribute("aria-label", slip.title);
    this.place.append(heading, away, body);
    this.clear = slip.mount(body, this.desk);
    heading.focus({ preventScroll: true });
  }
  /** To where the hand was before a slip was laid; sentences are drawn anew meanwhile. */
  private goBack(): void {
    const finding = this.before?.dataset["finding"];
    const back = this.before?.isConnected === true && this.before !== document.body ? this.before
      : finding !== undefined ? document.querySelector<HTMLElement>(`[data-finding="${CSS.escape(finding)}"]`) : null;
    (back ?? this.buttons.querySelector<HTMLElement>(`button[data-slip="${this.open}"]`))?.focus({ preventScroll: true });
    this.before = null;
  }
}
