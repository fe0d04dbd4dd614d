// What is drawn over the structure at this moment: switches, the case, the printed block, the legend.

import { button, make } from "./dom";
import { blocksOf } from "./heads";
import type { LifeArch } from "./life/life";
import { firstShows, mayShow, type Kind } from "./life/moments";
import { whyNot } from "./shows";
import type { Desk } from "./slips";
import { readCases } from "./slips/joints";
import type { Show } from "./state";
import { caseFor, verdictsOf } from "./structure/cases";
import type { LegendLine } from "./structure/pieces";

export const kShowWords: { [show in Show]: string } = {
  plan: "plan", net: "forces in the surface", flow: "flow of weight", phi: "phi lines", surface: "surface",
  thrust: "thrust", pads: "pressure in joints", mechanism: "how it would fall", moved: "movements", live: "loads", walk: "walking surface",
  ground: "ground and ties", seats: "centring", layers: "layers", survey: "survey",
};
const kVerdictSigns: { [verdict: string]: string } = { stands: "✓", falls: "✕", undecided: "?" };

export class Layers {
  private readonly kept = new Map<Kind, ReadonlySet<Show>>();
  private kind: Kind | null = null;
  private drawn = "";
  constructor(
    private readonly places: { switches: HTMLElement; choices: HTMLElement; legend: HTMLElement; fall: HTMLElement },
    private readonly desk: Desk,
    private readonly life: LifeArch,
  ) {
    desk.store.subscribe(() => this.follow());
    desk.views.subscribe(() => this.follow());
    this.follow();
  }
  /** Each kind of moment keeps what was last shown at it. */
  private follow(): void {
    const kind = this.life.stone().kind;
    if (kind !== this.kind) {
      this.kind = kind;
      this.desk.store.set({ shows: this.kept.get(kind) ?? new Set(firstShows(kind)) });
      return;
    }
    const now = this.desk.store.get();
    this.kept.set(kind, now.shows);
    const why = new Map(mayShow(kind).map((show) => [show, whyNot(show, kind, now, this.desk.views)]));
    const what = JSON.stringify([kind, [...now.shows], now.caseId, now.chosen.block, this.options(kind), [...why.values()]]);
    if (what === this.drawn) return;
    this.drawn = what;
    this.drawSwitches(now.shows, why);
    this.drawChoices(kind);
  }
  private drawSwitches(shows: ReadonlySet<Show>, why: ReadonlyMap<Show, string>): void {
    const held = (document.activeElement as HTMLElement | null)?.dataset["show"];
    this.places.switches.replaceChildren(...(why.size < 2 ? [] : [...why].map(([show, none]) => this.toggle(show, shows, none))));
    if (held !== undefined) this.places.switches.querySelector<HTMLElement>(`[data-show="${held}"]`)?.focus();
  }
  /** `none`: why it does nothing now. It can be reached all the same, and says so when it is pressed. */
  private toggle(show: Show, shows: ReadonlySet<Show>, none: string): HTMLElement {
    const { store } = this.desk;
    const one = button(kShowWords[show], () => {
      if (none !== "") return store.set({ note: none });
      const next = new Set(store.get().shows);
      if (!next.delete(show)) next.add(show);
      store.set({ shows: next });
    }, "switch");
    one.dataset["show"] = show;
    one.setAttribute("aria-pressed", String(none === "" && shows.has(show)));
    if (none === "") return one;
    one.setAttribute("aria-disabled", "true");
    one.title = none;
    return one;
  }
  private options(kind: Kind): [string, string][] {
    const blocks = this.desk.views.want("blocks").sheaf;
    if (blocks === null) return [];
    if (kind === "printed" && this.desk.views.want("layers").sheaf === null) return []; // nothing to choose among
    if (kind === "printed") return blocksOf(blocks).filter((block) => !block.fixed).map((block) => [block.id, block.id]);
    if (kind !== "walked") return [];
    const proof = this.desk.views.want("proof", { case: caseFor("struck", "", this.desk.views) }).sheaf;
    const said = new Map((proof === null ? [] : verdictsOf(proof)).map((one) => [one.id, one]));
    return readCases(blocks).map(({ id, words }) => {
      const one = said.get(id);
      const factor = one?.load_factor == null ? "" : `, ${one.at_cap ? "at least " : ""}× ${one.load_factor.toFixed(1)}`;
      return [id, one === undefined || one.verdict === "" ? `· ${words}` : `${kVerdictSigns[one.verdict] ?? "·"} ${one.verdict}${factor}: ${words}`];
    });
  }
  private drawChoices(kind: Kind): void {
    const options = this.options(kind);
    const held = (document.activeElement as HTMLElement | null)?.id;
    if (options.length === 0) return this.places.choices.replaceChildren();
    const { store, views } = this.desk;
    const select = make("select", "");
    select.id = "choice";
    const now = kind === "walked" ? caseFor(kind, store.get().caseId, views) : (store.get().chosen.block ?? "");
    for (const [value, words] of options) select.append(new Option(words, value, false, value === now));
    select.addEventListener("change", () => {
      if (kind === "walked") store.set({ caseId: select.value });
      else store.set({ chosen: { block: select.value, joint: null }, printShare: null });
    });
    const parts: HTMLElement[] = [make("label", "", kind === "walked" ? "load " : "block ", select)];
    if (kind === "printed") parts.push(this.printSlide());
    this.places.choices.replaceChildren(...parts);
    if (held === "choice" || held === "print-share") document.getElementById(held)?.focus();
  }
  private printSlide(): HTMLElement {
    const { store } = this.desk;
    const slide = make("input", "");
    slide.type = "range";
    slide.id = "print-share";
    slide.min = "0";
    slide.max = "1";
    slide.step = "0.002";
    slide.value = String(store.get().printShare ?? 1);
    slide.addEventListener("input", () => store.set({ printShare: Number(slide.value) }));
    return make("label", "", "how far ", slide);
  }
  /** `fall`: where it would hinge and slip; a sentence too long for the legend. */
  tellLegend(lines: readonly LegendLine[], fall: string): void {
    const items = lines.map((line) => {
      const mark = make("span", `mark ${line.sign} of${line.colour}`);
      mark.setAttribute("aria-hidden", "true");
      return make("li", "", undefined, mark, line.text);
    });
    this.places.legend.replaceChildren(...items);
    this.places.legend.hidden = items.length === 0;
    this.places.fall.hidden = fall === "";
    this.places.fall.textContent = fall === "" ? "" : `It would fall so: ${fall}`;
  }
}
