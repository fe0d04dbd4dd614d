// Plain sentences, worst first; each takes you to its place and its moment.

import type { Finding, Findings } from "./api";
import { button, make } from "./dom";
import type { Desk } from "./slips";
import type { Scene } from "./structure/scene";

const kSigns = ["✕", "!", "?", "✓"] as const;
const kLooks = ["falls", "near", "unchecked", "holds"] as const;
const kWords = ["fails", "near its limit", "not checked", "holds"] as const;

/** "2 fail, 1 is near its limit, 3 are not checked, 9 hold." */
export function summary(list: readonly Finding[]): string {
  const count = [0, 1, 2, 3].map((weight) => list.filter((each) => each.weight === weight).length) as [number, number, number, number];
  const parts: string[] = [];
  if (count[0] > 0) parts.push(`${count[0]} ${count[0] === 1 ? "fails" : "fail"}`);
  if (count[1] > 0) parts.push(`${count[1]} ${count[1] === 1 ? "is near its limit" : "are near their limit"}`);
  if (count[2] > 0) parts.push(`${count[2]} ${count[2] === 1 ? "is" : "are"} not checked`);
  if (count[3] > 0) parts.push(`${count[3]} ${count[3] === 1 ? "holds" : "hold"}`);
  return parts.length === 0 ? "Nothing is known yet." : parts.join(", ") + ".";
}

/** The counts, and first of all whether they are of an older revision. */
export function headline(of: number | null, list: readonly Finding[], revision: number | undefined): string {
  if (list.length > 0 && revision !== undefined && of !== null && of !== revision) return `Stale, of revision ${of}: ${summary(list)}`;
  const old = list.filter((each) => each.stale !== undefined).length;
  return old === 0 ? summary(list) : `${summary(list)} ${old} of these ${old === 1 ? "is" : "are"} stale.`;
}

/** The worst first whatever revision each is of; those of one weight in the server's order. */
export function worstFirst(list: readonly Finding[]): Finding[] {
  return [...list].sort((a, b) => a.weight - b.weight);
}

export class FindingList {
  private open: boolean;
  private more = false;
  constructor(
    private readonly place: HTMLElement,
    private readonly desk: Desk,
    private readonly scene: () => Scene | null,
  ) {
    this.open = innerWidth > 760;
    desk.store.watch((now) => now.findings, () => this.draw());
    desk.store.watch((now) => now.chosenFinding, () => this.draw());
    desk.store.watch((now) => `${now.server} ${now.state?.revision ?? ""}`, () => this.draw());
  }
  focus(): void {
    this.open = true;
    this.draw();
    this.place.querySelector<HTMLElement>("li button")?.focus();
  }
  private draw(): void {
    const { findings, chosenFinding, state } = this.desk.store.get();
    const held = (document.activeElement as HTMLElement | null)?.dataset["finding"];
    const list = worstFirst(findings?.list ?? []);
    const fold = button(headline(findings?.of ?? null, list, state?.revision), () => {
      this.open = !this.open;
      this.draw();
      this.place.querySelector<HTMLElement>("button.fold")?.focus();
    }, "fold");
    fold.setAttribute("aria-expanded", String(this.open));
    const worst = list.length === 0 ? 2 : Math.min(...list.map((each) => each.weight));
    fold.prepend(sign(worst));
    this.place.classList.toggle("open", this.open);
    this.place.classList.toggle("stale", findings !== null && !findings.fresh);
    this.place.replaceChildren(fold, ...(this.open ? this.inside(list, findings, chosenFinding) : []));
    if (held !== undefined) this.place.querySelector<HTMLElement>(`[data-finding="${CSS.escape(held)}"]`)?.focus();
  }
  private inside(list: readonly Finding[], findings: Findings | null, chosen: Finding | null): HTMLElement[] {
    const ol = make("ol", "findings");
    const bad = list.filter((each) => each.weight < 3);
    const shown = this.more || bad.length === 0 ? list : bad;
    for (const finding of shown) ol.append(this.line(finding, finding.id === chosen?.id));
    const out: HTMLElement[] = [ol];
    const rest = list.length - bad.length;
    if (rest > 0 && bad.length > 0)
      out.push(button(this.more ? "leave out what holds" : `and ${rest} that hold`, () => {
        this.more = !this.more;
        this.draw();
      }, "more"));
    if (findings !== null && findings.of !== null && findings.of !== this.desk.store.get().state?.revision) out.unshift(make("p", "stale-words", `Stale: these are of revision ${findings.of}.`));
    return out;
  }
  private line(finding: Finding, here: boolean): HTMLElement {
    const go = button("", () => this.go(finding), `finding ${kLooks[finding.weight]}${finding.stale === undefined ? "" : " stale"}`);
    go.dataset["finding"] = finding.id;
    if (here) go.setAttribute("aria-current", "true");
    const facts = [
      finding.share !== null && finding.weight < 2 ? `${Math.round(finding.share * 100)} % of the limit` : "",
      finding.stale === undefined ? "" : `stale: of revision ${finding.stale}`,
    ].filter((each) => each !== "").join(", ");
    go.append(sign(finding.weight), make("span", "says", finding.says));
    if (facts !== "") go.append(make("span", "share", facts));
    return make("li", "", undefined, go);
  }
  private go(finding: Finding): void {
    const { store } = this.desk;
    const scene = this.scene();
    const { place } = finding;
    const block = place.kind === "block" ? place.id : null;
    const joint = place.kind === "joint" ? place.id : null;
    store.set({
      chosenFinding: finding, chosen: { block, joint },
      ...(finding.moment === "" ? {} : { moment: finding.moment }),
      ...(place.kind === "case" ? { caseId: place.id } : {}),
      ...(place.kind === "stage" && /^\d+$/.test(place.id) ? { moment: `stage ${place.id}` } : {}),
      ...(place.kind === "key" ? { slip: "change" } : {}),
    });
    if (scene === null) return;
    const index = block === null ? -1 : scene.blockIndex(block);
    scene.highlight({ blocks: index < 0 ? [] : [index] });
    const at = place.at ?? (index >= 0 ? scene.blockHead(index)?.at : undefined) ?? scene.jointHeads().find((each) => each.id === joint)?.at;
    if (at !== undefined) scene.flyTo(at);
  }
}

function sign(weight: number): HTMLElement {
  const element = make("span", `sign ${kLooks[weight] ?? ""}`, kSigns[weight] ?? "");
  element.setAttribute("role", "img");
  element.setAttribute("aria-label", kWords[weight] ?? "");
  return element;
}
