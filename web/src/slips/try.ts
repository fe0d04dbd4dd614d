// "Try it": questions put to the bridge, which stays as it is.

import type { Point, Question } from "../api";
import type { Sheaf } from "../sheaf";
import { Refused } from "../source";
import type { Desk, Slip } from "../slips";
import { answerParts, governing, refusalParts } from "./answer";
import { Asking, type Reply } from "./asking";
import { button, el, labelled } from "./dom";
import { fill, sectionParts } from "./cut";
import { Away } from "./away";
import { headText, readCases, jointsLeft, readJoints, readState, readSupports, tieIds } from "./joints";
import { asQuestion, Loads } from "./loads";
import { inWords, middleOf } from "./question";
import { runWhole } from "../life/words";
import { whyMissing } from "../shows";
import { signOf } from "./say";
import { Pushes } from "./pushes";
import { parseNumber } from "./units";

export const trySlip: Slip = { name: "try", title: "Try it", key: "t", mount: (into, desk) => new Try(into, desk).clear };

class Try {
  private readonly verdict = el("div", { class: "slip-pinned", "aria-live": "polite" });
  private readonly beside = el("div", { "aria-live": "polite" });
  private readonly out = el("div", { class: "slip-answer", "aria-live": "polite" });
  private readonly cut = el("div", {});
  private readonly working = el("p", { class: "slip-quiet", role: "status" });
  private readonly asking: Asking<Sheaf>;
  private readonly loads: Loads;
  private readonly pushes = new Pushes((pushes) => this.asking.change({ pushes }));
  private readonly away: Away;
  private readonly ties = el("div", { class: "slip-ties" });
  private readonly cases = el("select", { on: { change: () => this.asking.change({ case: this.cases.value }) } });
  private readonly factor = number("Its live load, times", "1", (v) => this.asking.change({ live_factor: v ?? 1 }), 1);
  private readonly friction = number("Friction in all joints", "", (friction) => this.asking.change({ friction }), null, "as in the brief when left empty");
  private readonly ends: (() => void)[];

  constructor(into: HTMLElement, private readonly desk: Desk) {
    const { api, store, views } = desk;
    this.asking = new Asking<Sheaf>((question) => api.ask(question), {
      asking: (quick) => (this.working.textContent = quick ? "" : "Working it out."),
      answered: (reply) => this.answered(reply),
      failed: (reason) => this.failed(reason),
      empty: () => this.empty(),
    }, store.get().caseId || "dead");
    this.loads = new Loads(desk, () => middleOfDeck(desk), (moves) => {
      this.beside.replaceChildren();
      this.pushedBack = false;
      this.asking.change(asQuestion(this.loads.loads), moves);
    });
    this.away = new Away(desk, (without_blocks) => this.asking.change({ without_blocks }));
    into.append(
      el("div", { class: "slip-row" }, button("put everything back", () => this.putBack())), this.verdict, this.beside, this.out, this.working,
      part("People", this.loads.root), part("Case beside it", labelled("Under", this.cases), this.factor.root), part("Footings", this.pushes.root),
      part("Ties", this.ties), part("Friction", this.friction.root), part("Blocks", this.away.root), this.cut,
    );
    this.ends = [
      views.subscribe((name) => {
        if (name === "blocks" || name === "ground" || name === "shape") this.follow();
      }),
      store.watch((now) => now.state?.parts.blocks.of, () => this.asking.again()),
    ];
    this.follow();
    this.empty();
  }
  readonly clear = (): void => {
    for (const end of this.ends) end();
    this.asking.stop();
    this.loads.clear();
    this.desk.structure.showProof(null);
  };

  private supports(): ReturnType<typeof readSupports> {
    const { views } = this.desk;
    const blocks = views.want("blocks").sheaf;
    return blocks ? readSupports(blocks) : [];
  }
  /** What can be asked follows the bridge. */
  private follow(): void {
    const blocks = this.desk.views.want("blocks").sheaf;
    if (blocks) fill(this.cases, withDead(readCases(blocks)), this.asking.question.case);
    this.pushes.offer(this.supports(), middleOf(this.supports()));
    layTies(this.ties, this.desk, (without_ties) => this.asking.change({ without_ties }));
  }
  private answered({ answer, question, quick }: Reply<Sheaf>): void {
    if (!quick) this.working.textContent = "";
    this.desk.structure.showProof(answer);
    // what is walked about is not read out at each step
    for (const live of [this.verdict, this.out]) live.setAttribute("aria-live", quick ? "off" : "polite");
    const [verdict, ...rest] = answerParts(answer, quick, inWords(question, this.supports()));
    this.verdict.replaceChildren(...(verdict === undefined ? [] : [verdict]));
    this.out.replaceChildren(...rest);
    this.answers = true;
    if (!this.pushedBack) this.beside.replaceChildren();
    this.cut.replaceChildren(...answeredSection(answer, question, this.desk));
  }
  private answers = false;
  private pushedBack = false; // since a hand moved something
  /** What was answered last stays, as of where it was asked; a mark off the walk goes to its edge. */
  private failed(reason: unknown): void {
    if (reason instanceof Refused && !this.pushedBack && this.loads.toNearest(reason.faults)) {
      this.pushedBack = true;
      this.beside.replaceChildren(near("That place is off the walking surface: the mark stands at the nearest place on it."));
      return this.asking.change(asQuestion(this.loads.loads), true);
    }
    if (!this.answers) return this.nothing(...refusalParts(reason));
    this.working.textContent = "";
    this.beside.replaceChildren(...refusalParts(reason), near("What is told here is as of the last good question."));
  }
  private empty(): void {
    this.nothing(el("p", { class: "slip-quiet", text: "Put something on it, push a footing, or take something away. The bridge itself stays as it is." }));
  }
  private nothing(...said: HTMLElement[]): void {
    this.working.textContent = "";
    this.answers = false;
    this.desk.structure.showProof(null);
    this.verdict.replaceChildren();
    this.beside.replaceChildren();
    this.cut.replaceChildren();
    this.out.setAttribute("aria-live", "polite");
    this.out.replaceChildren(...said);
  }
  private putBack(): void {
    for (const each of [this.loads, this.pushes, this.away]) each.clear();
    for (const box of this.ties.querySelectorAll("input")) box.checked = false;
    for (const field of [this.factor, this.friction]) field.reset();
    this.asking.change({ crowds: [], persons: [], pushes: [], without_blocks: [], without_ties: [], friction: null, live_factor: 1 });
  }
}

const near = (words: string): HTMLElement => el("p", { class: "is-near" }, el("span", { class: "slip-sign", "aria-hidden": "true", text: signOf.near }), words);

const part = (name: string, ...inside: HTMLElement[]): HTMLElement =>
  el("details", { class: "slip-part", open: name === "People" }, el("summary", { text: name }), ...inside);

const withDead = (cases: { id: string; words: string }[]): { id: string; words: string }[] =>
  cases.some((c) => c.id === "dead") ? cases : [{ id: "dead", words: "its own weight" }, ...cases];

/** The section of the joint that was chosen, else of the one that governs. */
function answeredSection(answer: Sheaf, question: Question, desk: Desk): HTMLElement[] {
  const blocks = desk.views.want("blocks").sheaf;
  if (!blocks) return [];
  const left = jointsLeft(readJoints(blocks), question.without_blocks);
  if (left.length !== answer.rows("force")) return [];
  const at = (id: string): number => left.findIndex((j) => j?.id === id);
  const chosen = at(desk.store.get().chosen.joint ?? "");
  const index = [chosen, governing(answer).joint, at(headText(answer, "governing_joint")), at(headText(answer, "peak_joint"))].find((i) => i >= 0);
  const joint = index === undefined ? null : left[index];
  if (index === undefined || !joint) return [];
  return [el("h3", { text: `Joint ${joint.a} to ${joint.b}` }), ...sectionParts(question.friction === null ? joint : { ...joint, friction: question.friction }, readState(answer, index), "as asked")];
}

/** Where a load is put down first: on the deck, in the middle of all blocks that bear. */
function middleOfDeck(desk: Desk): Point | null {
  const walk = desk.views.want("blocks").sheaf?.f32("walk") ?? new Float32Array(0);
  const rows = walk.length / 3;
  if (rows === 0) return desk.structure.deckAt(0, 0);
  let x = 0, y = 0;
  for (let i = 0; i < rows; ++i) {
    x += (walk[3 * i] ?? 0) / rows;
    y += (walk[3 * i + 1] ?? 0) / rows;
  }
  let best: Point | null = null, least = Infinity;
  for (let i = 0; i < rows; ++i) {
    const p: Point = [walk[3 * i] ?? 0, walk[3 * i + 1] ?? 0, walk[3 * i + 2] ?? 0];
    const off = Math.hypot(p[0] - x, p[1] - y);
    if (off < least) [best, least] = [p, off];
  }
  return desk.structure.deckAt(x, y) ?? best;
}

function number(words: string, first: string, changed: (v: number | null) => void, ifEmpty: number | null, hint = ""): { root: HTMLElement; reset(): void } {
  const field = el("input", { type: "text", inputmode: "decimal", autocomplete: "off", value: first });
  field.addEventListener("change", () => {
    const value = parseNumber(field.value, ifEmpty);
    const wrong = value === null && field.value.trim() !== "";
    field.setAttribute("aria-invalid", String(wrong));
    if (!wrong) changed(value);
  });
  return { root: labelled(words, field, hint), reset: () => (field.value = first) };
}

function layTies(into: HTMLElement, desk: Desk, changed: (out: string[]) => void): void {
  const ground = desk.views.want("ground");
  const ties = ground.sheaf ? tieIds(ground.sheaf) : [];
  const same = [...into.querySelectorAll("input")].map((b) => b.value).join() === ties.map((t) => t.id).join();
  if (same && ties.length > 0) return;
  if (ties.length === 0) {
    const whole = desk.store.get().state?.parts.whole;
    const later = whole?.of == null || ground.missing === "";
    into.replaceChildren(el("p", { class: "slip-quiet", text: ground.sheaf ? "This bridge has no ties." : later ? "The ties come with the whole run: work out the whole." : whyMissing("ground", ground.missing, desk.store.get().state, desk.views) }),
      ...(ground.sheaf || !later ? [] : [button("work out the whole", () => void runWhole(desk))]));
    return;
  }
  const boxes = ties.map((t) => el("input", { type: "checkbox", value: t.id }));
  for (const box of boxes) box.addEventListener("change", () => changed(boxes.filter((b) => b.checked).map((b) => b.value)));
  into.replaceChildren(...boxes.map((box, i) => labelled(`${ties[i]?.words ?? box.value} is out`, box)));
}
