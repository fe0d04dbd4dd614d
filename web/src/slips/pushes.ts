// Footings that are pushed: along their line, across it, up, and turned.

import type { Question } from "../api";
import { el, labelled } from "./dom";
import { shift, type SupportLine } from "./question";
import { parseNumber } from "./units";

const kFields = ["along", "across", "up", "turn"] as const;
const kWords = { along: "Along its line, mm", across: "Outwards, mm", up: "Up, mm", turn: "Turned, degrees" };

export class Pushes {
  readonly root = el("div", { class: "slip-pushes" });
  private supports: readonly SupportLine[] = [];
  private middle: readonly number[] = [0, 0];
  private fields: { [name in (typeof kFields)[number]]: HTMLInputElement }[] = [];

  constructor(private readonly changed: (pushes: Question["pushes"]) => void) {}

  offer(supports: readonly SupportLine[], middle: readonly number[]): void {
    const same = supports.length === this.supports.length && supports.every((s, i) => s.name === this.supports[i]?.name);
    this.supports = supports;
    this.middle = middle;
    if (same && supports.length > 0) return;
    this.fields = supports.map(() => ({ along: this.field(), across: this.field(), up: this.field(), turn: this.field() }));
    this.root.replaceChildren(...supports.map((s, i) =>
      el("fieldset", { class: "slip-load" }, el("legend", { text: s.name }), ...kFields.map((name) => labelled(kWords[name], this.fields[i]?.[name] ?? this.field())))));
    if (supports.length === 0) this.root.replaceChildren(el("p", { class: "slip-quiet", text: "The footings are on their way." }));
  }
  clear(): void {
    for (const each of this.fields)
      for (const name of kFields) {
        each[name].value = "0";
        each[name].setAttribute("aria-invalid", "false");
      }
  }

  private field(): HTMLInputElement {
    const field = el("input", { type: "text", inputmode: "decimal", autocomplete: "off", value: "0" });
    field.addEventListener("change", () => {
      field.setAttribute("aria-invalid", String(parseNumber(field.value, 0) === null));
      this.tell();
    });
    field.addEventListener("keydown", (event) => {
      const by = event.key === "ArrowUp" ? 1 : event.key === "ArrowDown" ? -1 : 0;
      const now = parseNumber(field.value, 0);
      if (by === 0 || now === null) return;
      event.preventDefault();
      field.value = String(Math.round((now + by * (event.shiftKey ? 10 : 1)) * 1000) / 1000);
      this.tell();
    });
    return field;
  }
  private tell(): void {
    // a field that cannot be read asks nothing
    const unread = this.fields.some((f) => kFields.some((name) => f[name].value.trim() !== "" && parseNumber(f[name].value, 0) === null));
    for (const f of this.fields) for (const name of kFields) f[name].setAttribute("aria-invalid", String(f[name].value.trim() !== "" && parseNumber(f[name].value, 0) === null));
    if (unread) return;
    const pushes = this.fields.flatMap((f, i): Question["pushes"] => {
      const [along, across, up, turn] = kFields.map((name) => parseNumber(f[name].value, 0) ?? 0);
      const support = this.supports[i];
      if (!support || (!along && !across && !up && !turn)) return [];
      return [{ support: i, shift_m: shift(support, this.middle, along ?? 0, across ?? 0, up ?? 0), turn_rad: ((turn ?? 0) * Math.PI) / 180 }];
    });
    this.changed(pushes);
  }
}
