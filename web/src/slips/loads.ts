// Crowds and persons on the deck: each a mark that is dragged in the picture and a line in the slip.

import type { Point, Question } from "../api";
import type { Desk } from "../slips";
import type { Handle } from "../structure/structure";
import { button, el, labelled } from "./dom";
import type { Fault } from "../source";
import { offTheWalk } from "./edge";
import { readPlace } from "./question";
import { parseForce, parsePressure } from "./units";
import { parseLength } from "./lengths";

export interface Load {
  kind: "crowd" | "person";
  number: number;
  at: [number, number];
  radius_m: number;
  pressure_pa: number;
  force_n: number;
}

/** What the loads are in a question. */
export const asQuestion = (loads: readonly Load[]): Pick<Question, "crowds" | "persons"> => ({
  crowds: loads.filter((l) => l.kind === "crowd").map((l) => ({ at: l.at, radius_m: l.radius_m, pressure_pa: l.pressure_pa })),
  persons: loads.filter((l) => l.kind === "person").map((l) => ({ at: l.at, force_n: l.force_n })),
});

/** One arrow press: 0.1 m, with Shift 0.5 m; east is right, north is up. */
export function walked(at: readonly [number, number], key: string, shift: boolean): [number, number] | null {
  const by = shift ? 0.5 : 0.1;
  const to = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, by], ArrowDown: [0, -by] }[key];
  return to ? [round(at[0] + (to[0] ?? 0)), round(at[1] + (to[1] ?? 0))] : null;
}
const round = (v: number): number => Math.round(v * 1000) / 1000;

/** Segments round a place, for the picture; each point laid on the deck where there is one. */
export function circle(at: readonly [number, number], radius_m: number, deck: (x: number, y: number) => Point | null, z: number): Float32Array {
  const count = 32;
  const points = Array.from({ length: count + 1 }, (_, i): Point => {
    const a = (2 * Math.PI * i) / count;
    const x = at[0] + radius_m * Math.cos(a), y = at[1] + radius_m * Math.sin(a);
    return [x, y, (deck(x, y)?.[2] ?? z) + 0.03];
  });
  const lines = new Float32Array(6 * count);
  for (let i = 0; i < count; ++i) lines.set([...(points[i] ?? [0, 0, 0]), ...(points[i + 1] ?? [0, 0, 0])], 6 * i);
  return lines;
}

export class Loads {
  readonly root = el("div", { class: "slip-loads" });
  private readonly list = el("div", {});
  private readonly rows = new Map<Load, { row: HTMLElement; place: HTMLInputElement; handle: Handle }>();
  private count = 0;

  constructor(private readonly desk: Desk, private readonly start: () => Point | null, private readonly changed: (moves: boolean) => void) {
    this.root.append(
      el("div", { class: "slip-row" }, button("put a crowd on it", () => this.add("crowd")), button("put a person on it", () => this.add("person"))),
      this.list,
    );
  }

  get loads(): Load[] {
    return [...this.rows.keys()];
  }
  clear(): void {
    for (const load of this.loads) this.remove(load);
  }

  private add(kind: Load["kind"]): void {
    const at = this.start() ?? [0, 0, 0];
    const load: Load = { kind, number: ++this.count, at: [round(at[0]), round(at[1])], radius_m: 1, pressure_pa: 5000, force_n: 800 };
    const name = `${kind === "crowd" ? "Crowd" : "Person"} ${load.number}`;
    const place = el("input", { type: "text", autocomplete: "off", on: { change: () => this.typed(load) } });
    const walk = button("walk", () => undefined, { class: "slip-walk", title: "Arrow keys walk it, with Shift in larger steps", "aria-label": `Walk ${name} with the arrow keys` });
    walk.addEventListener("keydown", (event) => {
      const to = walked(load.at, event.key, event.shiftKey);
      if (!to) return;
      event.preventDefault();
      event.stopPropagation();
      this.move(load, to, true);
    });
    const row = el("fieldset", { class: "slip-load" }, el("legend", { text: name }), labelled("x, y in metres", place), walk,
      ...(kind === "crowd" ? this.crowdFields(load) : [this.quantity("Weight", "800 N", parseForce, (v) => (load.force_n = v))]),
      button("take away", () => {
        this.remove(load);
        this.changed(false);
      }, { "aria-label": `Take ${name} away` }));
    this.list.append(row);
    const handle = this.desk.structure.addHandle({ at: this.onDeck(load.at), label: name, along: "deck", mark: "people", step_m: 0.1,
      onDrag: (to, phase) => this.move(load, [round(to[0]), round(to[1])], phase === "moves") });
    this.rows.set(load, { row, place, handle });
    place.value = `${load.at[0]}, ${load.at[1]}`;
    this.draw();
    walk.focus();
    this.changed(false);
  }

  private crowdFields(load: Load): HTMLElement[] {
    return [
      this.quantity("Radius", "1 m", (t) => parseLength(t)?.value_m ?? null, (v) => (load.radius_m = v)),
      this.quantity("Pressure", "5 kPa", parsePressure, (v) => (load.pressure_pa = v)),
    ];
  }
  private quantity(name: string, first: string, read: (text: string) => number | null, set: (value: number) => void): HTMLElement {
    const field = el("input", { type: "text", value: first, autocomplete: "off" });
    field.addEventListener("change", () => {
      const value = read(field.value);
      field.setAttribute("aria-invalid", String(value === null || value <= 0));
      if (value === null || value <= 0) return;
      set(value);
      this.draw();
      this.changed(false);
    });
    return labelled(name, field, `such as ${first}`);
  }
  /** Marks off the walk go to the nearest place on it; false: none could be put. */
  toNearest(faults: readonly Fault[]): boolean {
    const off = offTheWalk(faults).flatMap((each) => {
      const load = this.loads.filter((l) => l.kind === each.kind)[each.index];
      return load === undefined ? [] : [{ load, to: each.nearest }];
    });
    for (const { load, to } of off) this.put(load, [...to]);
    return off.length > 0;
  }
  private typed(load: Load): void {
    const row = this.rows.get(load);
    const to = row && readPlace(row.place.value);
    row?.place.setAttribute("aria-invalid", String(!to));
    if (to) this.move(load, to, false);
  }
  private move(load: Load, to: [number, number], moves: boolean): void {
    this.put(load, to);
    this.changed(moves);
  }
  private put(load: Load, to: [number, number]): void {
    load.at = to;
    const row = this.rows.get(load);
    if (row) {
      row.place.value = `${to[0]}, ${to[1]}`;
      row.handle.moveTo(this.onDeck(to));
    }
    this.draw();
  }
  private onDeck(at: readonly [number, number]): Point {
    return this.desk.structure.deckAt(at[0], at[1]) ?? [at[0], at[1], this.start()?.[2] ?? 0];
  }
  private remove(load: Load): void {
    const row = this.rows.get(load);
    row?.handle.remove();
    row?.row.remove();
    this.rows.delete(load);
    this.draw();
  }
  private draw(): void {
    const { structure, views } = this.desk;
    const walks = (views.want("blocks").sheaf?.rows("walk") ?? 0) > 0; // to ask the blocks at each point would be slow
    const lines = this.loads.filter((l) => l.kind === "crowd").map((l) => circle(l.at, l.radius_m, (x, y) => (walks ? structure.deckAt(x, y) : null), this.onDeck(l.at)[2]));
    const all = new Float32Array(lines.reduce((n, l) => n + l.length, 0));
    lines.reduce((at, l) => (all.set(l, at), at + l.length), 0);
    structure.overlay("asked-crowds", all.length > 0 ? { lines: all, colour: "people" } : null);
  }
}
