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
    this.desk.structure.endPick();
    this.clear?.();
    this.clear = null;
    this.place.replaceChildren();
    const slip = this.slips.find((each) => each.name === name);
    for (const button of this.buttons.querySelectorAll<HTMLButtonElement>("button[data-slip]"))
      button.setAttribute("aria-expanded", String(button.dataset["slip"] === name));
    this.place.hidden = slip === undefined;
    if (slip === undefined) return;
    const heading = document.createElement("h2");
    heading.textContent = slip.title;
    const away = document.createElement("button");
    away.type = "button";
    away.className = "away";
    away.textContent = "put away";
    away.addEventListener("click", () => {
      this.desk.store.set({ slip: null });
      this.buttons.querySelector<HTMLButtonElement>(`button[data-slip="${slip.name}"]`)?.focus();
    });
    const body = document.createElement("div");
    body.className = "slip-body";
    this.place.setAttribute("aria-label", slip.title);
    this.place.append(heading, away, body);
    this.clear = slip.mount(body, this.desk);
  }
}
