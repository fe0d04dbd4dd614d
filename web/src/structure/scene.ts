// The picture: what is drawn at the moment that is shown, and what the page may ask of it.

import { Vector3, type Mesh } from "three";
import { jointsOf, supportsOf, type JointHead } from "../heads";
import type { LifeArch } from "../life/life";
import type { Sheaf } from "../sheaf";
import type { Store } from "../state";
import type { Views } from "../views";
import { Blocks } from "./blocks";
import { Canvas } from "./canvas";
import { Composer, type Drawn } from "./compose";
import { concerns, firstView, walkMesh } from "./first";
import { Handles } from "./handles";
import type { Rect } from "./clear";
import { Labels, type Label } from "./labels";
import { Palette, type ColourName } from "./palette";
import { emptyPiece, flatMesh, lineSegments, type LegendLine, type Piece } from "./pieces";
import { Pointer } from "./pointer";
import { Slots } from "./slots";
import type { Handle, HandleAsked, Overlay, Picked, Point, Structure } from "./structure";

export interface SceneParts {
  place: HTMLElement;
  store: Store;
  views: Views;
  life: () => LifeArch | null;
  legend: (lines: LegendLine[], fall: string) => void;
}

export class Scene implements Structure {
  readonly draws = true;
  readonly canvas: Canvas;
  readonly pointer: Pointer;
  private readonly palette = new Palette();
  private readonly labels: Labels;
  private readonly slots = new Slots();
  private readonly overlays = new Slots();
  private readonly laid = new Map<string, { what: Overlay; made: Piece }>();
  private readonly composer: Composer;
  private readonly handles: Handles;
  private blocks: Blocks | null = null;
  private joints: JointHead[] = [];
  private walk: Mesh | null = null;
  private answer: Sheaf | null = null;
  private polygon: unknown = null;
  private highlighted: { blocks: readonly number[]; joints: readonly number[] } = { blocks: [], joints: [] };
  private hoverLabel: Label | null = null;
  private drawnNow: Drawn | null = null;
  private fitted = "";
  private asked = false;

  /** Throws where the browser has no WebGL. */
  constructor(private readonly parts: SceneParts) {
    this.canvas = new Canvas(parts.place);
    const over = document.createElement("div");
    over.className = "labels";
    parts.place.append(over);
    this.labels = new Labels(over);
    this.canvas.onDrawn(() => this.labels.layOut(this.canvas.camera, this.canvas.dom.clientWidth, this.canvas.dom.clientHeight));
    this.pointer = new Pointer(this.canvas, () => ({
      blocks: this.blocks?.group.visible === true ? this.blocks : null,
      joints: this.joints, faces: this.slots.get("pads")?.group ?? null,
      walk: this.walk, surface: this.slots.get("surface")?.group ?? null,
    }));
    this.handles = new Handles(parts.place, this.canvas, (event) => this.pointer.deck(event), (x, y) => this.pointer.deckAt(x, y));
    this.composer = new Composer(this.slots, this.palette, parts.views);
    this.canvas.scene.add(this.slots.group, this.overlays.group);
    parts.store.subscribe((now, before) => concerns(now, before) && this.later());
    parts.views.subscribe(() => this.later());
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.newColours());
    this.later();
  }
  /** Many changes at one time are one new picture. */
  later(): void {
    if (this.asked) return;
    this.asked = true;
    queueMicrotask(() => {
      this.asked = false;
      this.update();
    });
  }
  private newColours(): void {
    this.palette.forget();
    this.slots.forget();
    this.blocks?.dispose();
    this.blocks = null;
    for (const [name, { what }] of [...this.laid]) this.overlay(name, what);
    this.later();
  }

  private takeBlocks(sheaf: Sheaf): void {
    if (this.blocks?.sheaf === sheaf) return;
    this.blocks?.dispose();
    this.blocks = new Blocks(sheaf, this.palette);
    this.joints = jointsOf(sheaf);
    this.canvas.scene.add(this.blocks.group);
    this.walk = walkMesh(sheaf);
    this.blocks.highlight(this.highlighted.blocks);
  }
  private update(): void {
    const { store, views } = this.parts;
    const life = this.parts.life();
    if (life === null || store.get().state === null) return;
    const sheaf = views.want("blocks").sheaf;
    if (sheaf !== null) this.takeBlocks(sheaf);
    this.drawnNow = this.composer.compose({
      now: store.get(), stone: life.stone(), moment: life.moment(), stages: life.stageHeads(), blocks: this.blocks, joints: this.joints,
      answer: this.answer, highlighted: this.highlighted, polygon: this.polygon, walk: this.walk,
    });
    this.fitOnce(this.drawnNow);
    this.canvas.dom.setAttribute("aria-label", `The structure. ${this.drawnNow.says} Arrow keys turn it, plus and minus come nearer and go away.`);
    this.tellLabels();
    this.parts.legend([...this.slots.legend(), ...this.overlays.legend()], this.drawnNow.fall);
    if (this.drawnNow.step === null) this.running = null;
    else this.runStep(this.drawnNow.step);
    this.canvas.ask();
  }
  private running: ((now: number) => boolean) | null = null;
  private runStep(step: (now: number) => boolean): void {
    if (this.running === step) return;
    this.running = step;
    this.canvas.run((now) => this.running === step && step(now));
  }
  private tellLabels(): void {
    this.labels.set([...this.slots.labels(), ...this.overlays.labels(), ...(this.hoverLabel === null ? [] : [this.hoverLabel])]);
  }
  /** The first time there is anything, and when another thing fills the picture (a block as it is printed). */
  private fitOnce(drawn: Drawn): void {
    if (drawn.box.isEmpty()) return;
    this.canvas.setBox(drawn.box, drawn.outline);
    if (drawn.fills === this.fitted) return;
    const first = this.fitted === "" || drawn.fills.startsWith("block");
    this.fitted = drawn.fills;
    this.canvas.fit(first || drawn.fills === "all" ? firstView(drawn.box, this.blocks === null ? [] : supportsOf(this.blocks.sheaf)) : undefined);
  }

  onPick(call: (picked: Picked) => void): () => void {
    return this.listen("pick", call);
  }
  onHover(call: (picked: Picked | null) => void): () => void {
    return this.listen("hover", call);
  }
  onSurface(call: (at: Point) => void): () => void {
    return this.listen("surface", call);
  }
  private readonly listeners = { pick: new Set<(p: Picked) => void>(), hover: new Set<(p: Picked | null) => void>(), surface: new Set<(p: Point) => void>() };
  private listen<K extends keyof Scene["listeners"]>(what: K, call: Parameters<Scene["listeners"][K]["add"]>[0]): () => void {
    const set = this.listeners[what] as Set<unknown>;
    set.add(call);
    return () => set.delete(call);
  }
  /** Told by the pointer's watcher (press.ts). */
  tell<K extends keyof Scene["listeners"]>(what: K, value: Parameters<Parameters<Scene["listeners"][K]["add"]>[0]>[0]): void {
    for (const call of [...(this.listeners[what] as Set<(v: typeof value) => void>)]) call(value);
  }
  pickWaits: { kind: Picked["kind"]; done: (picked: Picked | null) => void } | null = null;
  pick(kind: Picked["kind"]): Promise<Picked | null> {
    this.pickWaits?.done(null);
    this.canvas.dom.classList.add("picking");
    return new Promise((resolve) => {
      const done = (picked: Picked | null): void => {
        this.pickWaits = null;
        this.canvas.dom.classList.remove("picking");
        resolve(picked);
      };
      this.pickWaits = { kind, done };
    });
  }
  endPick(): void {
    this.pickWaits?.done(null);
  }
  highlight(what: { blocks?: readonly number[]; joints?: readonly number[] }): void {
    this.highlighted = { blocks: what.blocks ?? [], joints: what.joints ?? [] };
    this.blocks?.highlight(this.highlighted.blocks);
    this.later();
  }
  hoverAt(label: Label | null): void {
    if (label === null && this.hoverLabel === null) return;
    this.hoverLabel = label;
    this.tellLabels();
    this.canvas.ask();
  }
  flyTo(at: Point, away_m?: number): void {
    this.canvas.flyTo(new Vector3(...at), away_m ?? Math.max(1.2, this.canvas.boxSize() * 0.45));
  }
  fit(): void {
    this.canvas.fit();
  }
  showProof(answer: Sheaf | null): void {
    this.answer = answer;
    this.parts.store.set({ tried: answer !== null });
    this.later();
  }
  showPolygon(told: unknown): void {
    this.polygon = told;
    this.later();
  }
  groundPoint(event: { clientX: number; clientY: number }, level_m?: number): Point | null {
    return this.pointer.ground(event, level_m ?? this.drawnNow?.level_m ?? 0);
  }
  deckPoint(event: { clientX: number; clientY: number }): Point | null {
    return this.pointer.deck(event);
  }
  deckAt(x: number, y: number): Point | null {
    return this.pointer.deckAt(x, y);
  }
  addHandle(asked: HandleAsked): Handle {
    return this.handles.add(asked);
  }
  overlay(name: string, what: Overlay | null): void {
    if (what === null) this.laid.delete(name);
    else this.laid.set(name, { what, made: this.overlayPiece(what) });
    this.overlays.begin();
    for (const [each, { what: of, made }] of this.laid) this.overlays.want(each, [of, made], () => made);
    this.overlays.end();
    this.later();
  }
  private overlayPiece(what: Overlay): Piece {
    const piece = emptyPiece();
    const colour = this.palette.of(what.colour as ColourName);
    if (what.lines !== undefined) piece.group.add(lineSegments(what.lines, colour, what.faint === true ? 0.5 : 1));
    if (what.says !== undefined) piece.legend.push({ sign: what.faint === true ? "faint" : "line", colour: `--${what.colour}`, text: what.says });
    if (what.triangles !== undefined) piece.group.add(flatMesh(what.triangles, colour, 0.5));
    for (const label of what.labels ?? []) piece.labels.push({ at: label.at, text: label.text, look: what.colour, weight: 20 });
    return piece;
  }
  /** What lies over the picture: no label goes under it. */
  setPanels(panels: readonly Rect[]): void {
    this.labels.setPanels(panels);
    this.canvas.ask();
  }
  redraw(): void {
    this.later();
  }
  /** Index of a joint or block by its id. */
  jointHeads(): readonly JointHead[] {
    return this.joints;
  }
  blockIndex(id: string): number {
    return this.blocks?.heads.findIndex((head) => head.id === id) ?? -1;
  }
  blockHead(index: number): Blocks["heads"][number] | undefined {
    return this.blocks?.heads[index];
  }
}
