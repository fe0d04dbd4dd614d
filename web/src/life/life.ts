// The arch of life on the page: each stone a button; the moment that is shown said under it.

import type { LodgeState, PartKnown } from "../api";
import { stagesOf, type StageHead } from "../heads";
import { numberOf } from "../heads";
import type { Desk } from "../slips";
import { failedText } from "../source";
import { isDraft } from "../state";
import { along, cutRing, topBetween, type Ring, type StoneShape } from "./ring";
import { findMoment, lifeOf, momentId, step, type Life, type Moment, type Stone } from "./moments";
import { missingSentence, sayMoment } from "./words";

const kSvg = "http://www.w3.org/2000/svg";

export function knownOf(stone: Stone, state: LodgeState | null): PartKnown | null {
  return stone.part === null || state === null ? null : state.parts[stone.part];
}

export class LifeArch {
  private life: Life = lifeOf(null, 0);
  private stages: StageHead[] | null = null;
  private ring: Ring | null = null;
  private readonly svg = document.createElementNS(kSvg, "svg");
  private groups: SVGGElement[] = [];
  private drawn = "";

  constructor(
    private readonly place: HTMLElement,
    private readonly caption: HTMLElement,
    private readonly desk: Desk,
  ) {
    this.svg.setAttribute("role", "group");
    this.svg.setAttribute("aria-label", "The life of the bridge. Arrow keys go along it, Page Up and Page Down stone by stone.");
    place.prepend(this.svg);
    this.svg.addEventListener("keydown", (event) => this.key(event));
    this.svg.addEventListener("pointerdown", (event) => this.press(event));
    // The stones are drawn anew when one is pressed; the focus is set by hand.
    this.svg.addEventListener("mousedown", (event) => event.preventDefault());
    new ResizeObserver(() => this.draw(true)).observe(place);
    desk.store.subscribe(() => this.draw(false));
    desk.views.subscribe(() => this.draw(false));
    this.draw(true);
  }

  /** The moment the page is at. */
  moment(): Moment {
    return findMoment(this.desk.store.get().moment, this.life, this.stages);
  }
  stone(): Stone {
    return this.life.stones[this.moment().stone] as Stone;
  }
  stageHeads(): StageHead[] | null {
    return this.stages;
  }
  go(by: 1 | -1, whole: boolean): void {
    this.show(step(this.moment(), by, this.life, whole));
  }

  private show(moment: Moment): void {
    const stone = this.life.stones[moment.stone] as Stone;
    this.desk.store.set({ moment: momentId(stone, moment.stage, this.stages) });
  }
  private key(event: KeyboardEvent): void {
    const by = event.key === "ArrowRight" || event.key === "ArrowUp" || event.key === "PageDown" ? 1 : event.key === "ArrowLeft" || event.key === "ArrowDown" || event.key === "PageUp" ? -1 : 0;
    const end = event.key === "Home" ? 0 : event.key === "End" ? this.life.stones.length - 1 : null;
    if (by === 0 && end === null) return;
    event.preventDefault();
    event.stopPropagation();
    if (end !== null) this.show({ stone: end, stage: this.life.stones[end]?.stages?.[0] ?? null });
    else this.go(by as 1 | -1, event.key.startsWith("Page"));
    this.groups[this.moment().stone]?.focus();
  }
  /** A stone that stands for many stages is a slide as well: where it is pressed says which. */
  private press(event: PointerEvent): void {
    const at = this.groups.findIndex((group) => group.contains(event.target as Node));
    const stone = this.life.stones[at];
    if (stone === undefined || this.ring === null) return;
    const ring = this.ring;
    const place = (move: PointerEvent): void => {
      const shape = ring.stones[at];
      const box = this.svg.getBoundingClientRect();
      const share = shape === undefined ? 0 : along(shape, ring, move.clientX - box.left, move.clientY - box.top);
      const stage = stone.stages === null ? null : stone.stages[0] + Math.floor(share * (stone.stages[1] - stone.stages[0]));
      this.show({ stone: at, stage: stone.kind === "taken down" && stone.stages !== null ? (stage as number) : stage });
    };
    place(event);
    this.groups[at]?.focus();
    if (stone.stages === null || stone.stages[1] - stone.stages[0] < 2) return;
    const end = (): void => {
      removeEventListener("pointermove", place);
      removeEventListener("pointerup", end);
      removeEventListener("pointercancel", end);
    };
    addEventListener("pointermove", place);
    addEventListener("pointerup", end);
    addEventListener("pointercancel", end);
  }

  private draw(sized: boolean): void {
    const now = this.desk.store.get();
    const view = this.desk.views.want("stages");
    this.stages = view.sheaf === null ? null : stagesOf(view.sheaf);
    this.life = lifeOf(this.stages, view.sheaf === null ? 0 : numberOf(view.sheaf.head["key_stage"]));
    const marks = this.marks();
    const moment = this.moment();
    const what = JSON.stringify([now.moment, now.chosen.block, this.life, marks, now.state?.parts, now.state?.revision, now.state?.busy === null, this.missing()]);
    if (!sized && what === this.drawn) return;
    this.drawn = what;
    const focused = this.groups.findIndex((group) => group === document.activeElement);
    this.build(marks, moment);
    if (focused >= 0) this.groups[Math.min(moment.stone, this.groups.length - 1)]?.focus({ preventScroll: true });
    sayMoment(this.caption, this.desk, this.life.stones[moment.stone] as Stone, moment, this.stages, (by) => this.go(by, false));
  }
  private missing(): string {
    return missingSentence(this.stone(), this.desk);
  }
  /** Per stone the worst finding of its moments: 0 fails, 1 near, 9 none. */
  private marks(): number[] {
    const marks = this.life.stones.map(() => 9);
    for (const finding of this.desk.store.get().findings?.list ?? []) {
      if (finding.weight > 1 || finding.moment === "") continue;
      const at = findMoment(finding.moment, this.life, this.stages).stone;
      marks[at] = Math.min(marks[at] ?? 9, finding.weight);
    }
    return marks;
  }
  private build(marks: number[], moment: Moment): void {
    const width = Math.max(280, this.place.clientWidth - 14);
    const narrow = width < 620;
    const widthOf = (stone: Stone): number => (stone.kind === "stage" ? (narrow ? 0.8 : 0.3 + 0.066 * stone.name.length) : narrow ? 1 : 0.4 + 0.08 * stone.name.length);
    const { stones, key } = this.life;
    const size = { width, rise: narrow ? 34 : Math.min(84, width * 0.062), depth: 38, margin: 16 };
    const ring = cutRing(stones.slice(0, key).map(widthOf), 1.15, stones.slice(key + 1).map(widthOf), size);
    this.ring = ring;
    this.svg.setAttribute("width", String(width));
    this.svg.setAttribute("height", String(Math.ceil(ring.height)));
    this.svg.classList.toggle("narrow", stones.some((stone, i) => !nameFits(stone, ring.stones[i] as StoneShape, true)));
    this.groups = stones.map((stone, i) => this.stoneGroup(stone, i, ring, marks[i] ?? 9, moment));
    this.svg.replaceChildren(...this.groups);
    const here = stones[moment.stone];
    const shape = ring.stones[moment.stone];
    // drawn last, over its neighbours
    if (here !== undefined && shape !== undefined && !nameFits(here, shape, true)) this.svg.append(nameOver(here.name, shape, ring, (marks[moment.stone] ?? 9) < 2));
  }
  private stoneGroup(stone: Stone, i: number, ring: Ring, mark: number, moment: Moment): SVGGElement {
    const shape = ring.stones[i];
    const here = i === moment.stone;
    const { state } = this.desk.store.get();
    const known = knownOf(stone, state);
    const group = document.createElementNS(kSvg, "g");
    const missing = known !== null && known.of === null;
    const draft = known !== null && state !== null && isDraft(known, state.revision);
    const stale = known !== null && !missing && !draft && !known.fresh;
    group.setAttribute("class", ["stone", here ? "here" : "", missing ? "missing" : "", draft ? "draft" : "", stale ? "stale" : ""].filter(Boolean).join(" "));
    group.setAttribute("role", "button");
    group.setAttribute("tabindex", here ? "0" : "-1");
    if (here) group.setAttribute("aria-current", "step");
    group.setAttribute("aria-label", stoneLabel(stone, known, mark, draft));
    group.dataset["kind"] = stone.kind;
    if (shape === undefined) return group;
    const path = document.createElementNS(kSvg, "path");
    path.setAttribute("d", shape.path);
    const title = document.createElementNS(kSvg, "title");
    title.textContent = stoneLabel(stone, known, mark, draft);
    group.append(title, path);
    const turn = `translate(${shape.x.toFixed(1)} ${shape.y.toFixed(1)}) rotate(${shape.lean.toFixed(2)})`;
    if (nameFits(stone, shape, here)) group.append(svgText(stone.name, turn, 4, "name"));
    if (mark < 2) group.append(...signOn(turn, mark));
    if (here && moment.stage !== null && stone.stages !== null) group.append(progress(turn, shape.across, stone.stages, moment.stage));
    return group;
  }
}

function stoneLabel(stone: Stone, known: PartKnown | null, mark: number, draft: boolean): string {
  const placed = stone.stages !== null && /^\d/.test(stone.name);
  const words = [placed ? "placed" : stone.name];
  if (stone.stages !== null && stone.kind === "stage") words.push(`stages ${stone.stages[0] + 1} to ${stone.stages[1]}`);
  if (mark === 0) words.push("something fails here");
  if (mark === 1) words.push("something is near its limit here");
  if (known !== null && known.of === null) words.push(known.failed !== "" ? `not there: ${failedText(known.failed)}` : "not worked out yet");
  else if (known !== null && draft) words.push(`a draft: ${known.draft ?? ""}`);
  else if (known !== null && !known.fresh) words.push(`stale, of revision ${known.of}`);
  return words.join("; ");
}
/** Bold letters, of the stone that is picked, are wider. */
function nameFits(stone: Stone, shape: StoneShape, bold: boolean): boolean {
  return shape.across > stone.name.length * (bold ? 8.2 : 6.4);
}
function svgText(text: string, turn: string, dy: number, cls: string): SVGTextElement {
  const element = document.createElementNS(kSvg, "text");
  element.setAttribute("transform", `${turn} translate(0 ${dy})`);
  element.setAttribute("class", cls);
  element.setAttribute("aria-hidden", "true");
  element.textContent = text;
  return element;
}
/** The name of a stone that is too narrow for it: level, over the ring, within the page, beside its sign. */
function nameOver(name: string, shape: StoneShape, ring: Ring, signed: boolean): SVGTextElement {
  const half = name.length * 4.1;
  const width = 2 * ring.cx;
  const beside = !signed ? 0 : shape.x + 12 + 2 * half < width ? 12 + half : -12 - half;
  const x = Math.max(half, Math.min(width - half, shape.x + beside));
  return svgText(name, `translate(${x.toFixed(1)} ${(topBetween(ring, x - half, x + half) - 5).toFixed(1)})`, 0, "over");
}
function signOn(turn: string, mark: number): SVGElement[] {
  const look = mark === 0 ? "falls" : "near";
  const disc = document.createElementNS(kSvg, "circle");
  disc.setAttribute("transform", turn);
  disc.setAttribute("cy", "-19");
  disc.setAttribute("r", "7.5");
  disc.setAttribute("class", `disc ${look}`);
  return [disc, svgText(mark === 0 ? "✕" : "!", turn, -15, "sign")];
}
function progress(turn: string, across: number, stages: [number, number], stage: number): SVGRectElement {
  const bar = document.createElementNS(kSvg, "rect");
  const share = (stage - stages[0] + 1) / (stages[1] - stages[0]);
  bar.setAttribute("transform", turn);
  bar.setAttribute("x", (-across / 2 + 2).toFixed(1));
  bar.setAttribute("y", "11");
  bar.setAttribute("width", Math.max(3, share * (across - 4)).toFixed(1));
  bar.setAttribute("height", "4");
  bar.setAttribute("class", "progress");
  return bar;
}
