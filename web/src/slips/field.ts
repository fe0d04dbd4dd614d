// One key of the brief as a line: its name, its text, what it means, and what is wrong with it.

import type { Key } from "../api";
import { faultText, type Fault } from "../source";
import { el, newId } from "./dom";
import { figure, nudge, toField, toToml } from "./keytext";
import { Rest } from "./latest";

const kTyping_ms = 500;
const kNudge_ms = 60;

/** "plan.support[2].level" is "support 2, level" within its group. */
export function plainName(key: string): string {
  const parts = key.replace(/\[(\d+)\]/g, " $1").split(".");
  return (parts.length > 1 ? parts.slice(1) : parts).map((p) => p.replace(/_/g, " ")).join(", ");
}

/** Whether what is typed can be sent before the hand rests on Enter: a number with its unit. */
export function looksWhole(typed: string, written: Key["written"]): boolean {
  const f = figure(typed);
  if (!f || typed.trim().endsWith(".")) return false;
  return written === "quantity" ? f.rest.trim() !== "" : written !== "other";
}

export class Field {
  readonly root: HTMLElement;
  private readonly input: HTMLInputElement | HTMLTextAreaElement;
  private readonly wrong: HTMLElement;
  private readonly origin: HTMLElement;
  private readonly typing: Rest;
  private readonly nudging: Rest;
  private sent = ""; // what the server was told last, or what it said
  private faulty = false;
  private unsent = false;

  constructor(private key: Key, private readonly put: (key: string, text: string) => void) {
    const name = plainName(key.key);
    const meaningId = newId("meaning"), wrongId = newId("wrong");
    const attributes = { id: newId("key"), "aria-describedby": `${meaningId} ${wrongId}`, spellcheck: "false", autocomplete: "off", "data-key": key.key };
    const long = key.written === "other" && key.text.length > 40;
    this.input = long ? el("textarea", { ...attributes, rows: 3 }) : el("input", { ...attributes, type: "text" });
    this.wrong = el("p", { class: "slip-wrong", id: wrongId, "aria-live": "polite" });
    this.origin = el("span", { class: "slip-origin" });
    this.root = el("div", { class: "slip-key" }, el("label", { for: this.input.id, text: name }), this.input, this.origin,
      el("p", { class: "slip-hint", id: meaningId, text: key.meaning }), this.wrong);
    this.typing = new Rest(kTyping_ms, () => this.send());
    this.nudging = new Rest(kNudge_ms, () => this.send());
    this.input.addEventListener("input", () => {
      this.input.dataset["dirty"] = String(this.dirty);
      if (looksWhole(this.input.value, this.key.written)) this.typing.again();
      else this.typing.stop();
    });
    this.input.addEventListener("change", () => this.send());
    this.input.addEventListener("keydown", (event) => this.pressed(event as KeyboardEvent));
    this.show();
  }

  /** What stands in the brief now; what is being typed stays, and so does what was not sent. */
  update(key: Key): void {
    this.key = key;
    const typing = this.faulty || this.input.value.trim() !== this.sent.trim();
    const stays = this.unsent || (this.input === document.activeElement && typing);
    if (!stays) this.show();
  }
  fault(faults: readonly Fault[]): void {
    this.wrong.textContent = faults.map(faultText).join(" ");
    this.faulty = faults.length > 0;
    this.unsent = false;
    this.input.setAttribute("aria-invalid", String(this.faulty));
    if (this.faulty) this.input.dataset["dirty"] = "true";
  }
  /** It has not reached the brief: kept and marked, and can be sent again. */
  notSent(text: string, says: string): void {
    this.input.value = this.sent = toField(text);
    this.fault([{ says: `Not sent: it is not in the brief yet. ${says} Enter sends it again.` }]);
    this.unsent = true;
  }
  /** The brief's own text again, and no fault. */
  putBack(): void {
    this.show();
    this.fault([]);
  }
  get dirty(): boolean {
    return this.input.value.trim() !== toField(this.key.text).trim();
  }
  stop(): void {
    this.typing.stop();
    this.nudging.stop();
  }

  private show(): void {
    this.sent = toField(this.key.text);
    this.input.value = this.sent;
    this.input.dataset["dirty"] = "false";
    this.origin.textContent = this.key.given ? "" : "left to the default";
    this.root.classList.toggle("is-default", !this.key.given);
  }
  private send(again = false): void {
    this.stop();
    const typed = this.input.value.trim();
    if (typed === this.sent.trim() && !again) return;
    this.sent = typed;
    this.input.dataset["dirty"] = "false";
    this.put(this.key.key, toToml(typed, this.key.written));
  }
  private pressed(event: KeyboardEvent): void {
    if (event.key === "Escape" && this.dirty) {
      event.stopPropagation();
      this.stop();
      this.putBack();
    }
    if (event.key === "Enter" && !event.shiftKey && !event.isComposing) {
      event.preventDefault(); // Shift+Enter makes a new line where there is room for one
      this.send(this.unsent);
    }
    if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const next = nudge(this.input.value, event.key === "ArrowUp" ? 1 : -1, event.shiftKey, this.key.written);
    if (next === null) return;
    event.preventDefault();
    this.input.value = next;
    this.nudging.again();
  }
}
