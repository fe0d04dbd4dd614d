// "Change it": the keys of the brief in groups for people, and handles in the picture.

import type { Key, Keys } from "../api";
import type { Desk, Slip } from "../slips";
import { faultText, type Fault } from "../source";
import { el, labelled } from "./dom";
import { Field } from "./field";
import { found } from "./find";
import { deedOf, type Said } from "./hand";
import { Handles } from "./handles";
import { onlyOutline, readPlan } from "./plan";
import { toField } from "./keytext";

export const changeSlip: Slip = { name: "change", title: "Change it", key: "c", mount: (into, desk) => new Change(into, desk).clear };

/** Whether a fault is about this key, or about a member of it. */
export const isAbout = (faultKey: string | undefined, key: string): boolean =>
  faultKey !== undefined && (faultKey === key || faultKey.startsWith(`${key}[`) || faultKey.startsWith(`${key}.`) || key.startsWith(`${faultKey}[`));

/** A figure within a list, "plan.outline[3][1]": dragged in the picture, and shown when its number is sought. */
const inList = (key: Key): boolean => key.key.endsWith("]");
const isList = (key: Key): boolean => key.text.trimStart().startsWith("[");

/** Given keys that are no lists, unless all are wanted or something is sought. */
export function shownGroups(keys: Keys, typed: string, all: boolean): Keys["groups"] {
  const sought = typed.trim() !== "", numbered = /[\d[]/.test(typed);
  const shown = (k: Key): boolean => (inList(k) ? numbered : sought || all || (k.given && !isList(k)));
  return found(keys.groups.map((g) => ({ ...g, keys: g.keys.filter(shown) })), typed);
}

/** What lies open at first: the shape's own groups, or the first two. */
export function openAtFirst(names: readonly string[]): string[] {
  const own = names.filter((n) => /^(form|section)$/i.test(n));
  return own.length > 0 ? own : names.slice(0, 2);
}

/** "rise 1.55 m, mesh size 0.15 m": what a closed group holds, at a glance. */
export function glance(keys: readonly Key[]): string {
  const said = keys.filter((k) => k.given && k.written !== "other").slice(0, 3).map((k) => `${k.key.slice(k.key.lastIndexOf(".") + 1).replace(/_/g, " ")} ${toField(k.text)}`);
  return said.join(", ");
}

class Change {
  private readonly seek = el("input", { type: "search", autocomplete: "off", placeholder: "such as rise", on: { input: () => this.show() } });
  private readonly all = el("input", { type: "checkbox", on: { change: () => this.show() } });
  private readonly outline = el("input", { type: "checkbox", on: { change: () => this.layHandles() } });
  private readonly outlineSays = el("p", { class: "slip-hint" });
  private readonly general = el("p", { class: "slip-wrong", "aria-live": "assertive" });
  private readonly count = el("p", { class: "slip-hint", "aria-live": "polite" });
  private readonly groups = el("div", { class: "slip-groups" });
  private readonly fields = new Map<string, Field>();
  private readonly handles: Handles;
  private readonly ends: (() => void)[];
  private laid = "";
  private asking = 0;

  constructor(into: HTMLElement, private readonly desk: Desk) {
    const { hand, store, views } = desk;
    this.handles = new Handles(desk, hand);
    const takes = takesBack(desk);
    into.addEventListener("keydown", takes);
    into.append(labelled("Find", this.seek), el("div", { class: "slip-row" }, labelled("all keys, defaults and lists too", this.all), labelled("handles on the outline too", this.outline)), this.outlineSays,
      this.general, this.count, this.groups);
    this.ends = [
      () => into.removeEventListener("keydown", takes),
      hand.subscribe((what) => this.said(what)),
      store.watch((now) => now.keys, () => {
        this.show();
        this.layHandles();
      }),
      store.watch((now) => `${now.state?.since ?? 0} ${now.state?.revision ?? 0}`, () => void this.fetchKeys()),
      views.subscribe((name) => {
        if (name === "shape") this.layHandles();
      }),
      this.handles.onRest(() => void this.fetchKeys()),
    ];
  }
  readonly clear = (): void => {
    for (const end of this.ends) end();
    for (const field of this.fields.values()) field.stop();
    this.asking++;
    this.handles.clear();
  };

  private layHandles(): void {
    const keys = this.desk.store.get().keys?.groups.flatMap((g) => g.keys) ?? [];
    const own = keys.length === 0 || readPlan(keys).handles.some(onlyOutline);
    this.outline.disabled = !own;
    this.outlineSays.textContent = own ? "" : "Each point of this outline is the end of a support, or comes from a file: there is no handle more.";
    this.handles.lay(keys, this.desk.views.want("shape").sheaf, this.outline.checked);
  }
  private show(): void {
    const { keys } = this.desk.store.get();
    if (!keys) {
      this.laid = "";
      return this.groups.replaceChildren(el("p", { class: "slip-quiet", text: "The brief is on its way." }));
    }
    const shown = shownGroups(keys, this.seek.value, this.all.checked);
    const pattern = JSON.stringify(shown.map((g) => [g.name, g.keys.map((k) => [k.key, k.written])]));
    if (pattern === this.laid) for (const key of shown.flatMap((g) => g.keys)) this.fields.get(key.key)?.update(key);
    else this.build(shown);
    this.laid = pattern;
    const number = shown.reduce((n, g) => n + g.keys.length, 0);
    this.count.textContent = this.seek.value.trim() === "" ? "" : number === 0 ? "No key is named so, or means that." : `${number} found.`;
  }
  private build(shown: Keys["groups"]): void {
    const focused = document.activeElement instanceof HTMLElement ? document.activeElement.dataset["key"] : undefined;
    const first = this.laid === "" ? openAtFirst(shown.map((g) => g.name)) : [];
    const open = new Set([...first, ...[...this.groups.querySelectorAll("details")].filter((d) => d.open).map((d) => d.dataset["group"] ?? "")]);
    for (const field of this.fields.values()) field.stop();
    this.fields.clear();
    this.groups.replaceChildren(...shown.map((group) => {
      const details = el("details", { "data-group": group.name, open: this.seek.value.trim() !== "" || open.has(group.name) },
        el("summary", {}, group.name, el("span", { class: "slip-glance", text: glance(group.keys) })));
      for (const key of group.keys) {
        const field = new Field(key, (name, text) => this.desk.hand.change(name, [{ key: name, text }]));
        this.fields.set(key.key, field);
        details.append(field.root);
      }
      return details;
    }));
    if (focused !== undefined) this.groups.querySelector<HTMLElement>(`[data-key="${CSS.escape(focused)}"]`)?.focus();
  }
  private async fetchKeys(): Promise<void> {
    const { api, store } = this.desk;
    const { state, keys } = store.get();
    if (!state || this.handles.held || keys?.revision === state.revision) return;
    const mine = ++this.asking;
    try {
      const newest = await api.keys();
      if (mine === this.asking) store.set({ keys: newest });
    } catch (error) {
      if (mine === this.asking && !store.get().keys) this.groups.replaceChildren(el("p", { class: "slip-wrong", text: error instanceof Error ? error.message : String(error) }));
    }
  }
  private said(what: Said): void {
    if (what.kind !== "taken") this.layHandles(); // a handle goes back to where the brief has it
    const own = what.changes.flatMap((change) => this.fields.get(change.key) ?? []);
    if (what.kind === "gone") {
      for (const { key, text } of what.changes) this.fields.get(key)?.notSent(text, what.says);
      this.general.textContent = own.length > 0 ? "" : `The change was not made. ${what.says}`;
    }
    if (what.kind === "taken") this.general.textContent = "";
    if (what.kind === "taken") for (const field of own) field.fault([]);
    if (what.kind === "moved" || what.kind === "left") for (const field of own) field.putBack();
    if (what.kind === "faults") this.blame(what.faults, own);
  }
  /** Beside the fields that the faults are about, else beside those that were changed, else over all. */
  private blame(faults: readonly Fault[], changed: readonly Field[]): void {
    const about = [...this.fields].filter(([key]) => faults.some((f) => isAbout(f.key, key)));
    for (const [key, field] of about) field.fault(faults.filter((f) => isAbout(f.key, key)));
    const rest = faults.filter((f) => !about.some(([key]) => isAbout(f.key, key)));
    const others = changed.filter((field) => !about.some(([, each]) => each === field));
    if (rest.length > 0 && changed.length > 0) for (const field of others.length > 0 ? others : changed) field.fault(others.length > 0 ? rest : faults);
    this.general.textContent = rest.length > 0 && changed.length === 0 ? rest.map(faultText).join(" ") : "";
  }
}

/** In a field whose text is sent already, the brief is taken back; else the browser takes back what was typed. */
const takesBack = (desk: Desk) => (event: KeyboardEvent): void => {
  const deed = deedOf(event);
  if (deed === null || !(event.target instanceof HTMLElement) || event.target.dataset["dirty"] !== "false") return;
  event.preventDefault();
  void desk.hand[deed]();
};
