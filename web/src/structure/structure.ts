// What the rest of the page may ask of the picture. scene.ts draws it; noscene.ts stands in where
// the browser cannot draw.

import type { Point } from "../api";
import type { Sheaf } from "../sheaf";

export type { Point };
export interface Picked {
  kind: "block" | "joint" | "support" | "surface";
  id: string; // of the surface: empty
  index: number; // in the head of the view `blocks`
  at: Point; // where it was touched
}
export interface Handle {
  moveTo(at: Point): void;
  /** Beside it while it is pointed at or chosen; its label until told otherwise. */
  say(words: string): void;
  remove(): void;
}
/** People on the deck; an end of a support, the whole of one, a point of the outline, the meeting; rise, a depth. */
export type HandleMark = "people" | "end" | "whole" | "point" | "rise" | "depth";
export interface HandleAsked {
  at: Point;
  label: string; // said beside it and to screen readers
  along: "plan" | "up" | "deck"; // dragged level; straight up and down; over the walking surface
  /** "moves" while it is dragged, "rests" when let go. Arrow keys move it too. */
  onDrag(at: Point, phase: "moves" | "rests"): void;
  step_m?: number; // of one press of an arrow key; 0.05
  mark?: HandleMark; // how it looks
}
export interface Overlay {
  lines?: Float32Array; // six numbers a line
  triangles?: Float32Array; // nine numbers each
  labels?: { at: Point; text: string }[];
  faint?: boolean; // lines paler than the structure's own
  says?: string; // its line in the legend
  colour: "quiet" | "force" | "people" | "measured" | "chosen" | "falls" | "near" | "holds";
}

export interface Structure {
  /** False: the browser cannot draw in three dimensions. */
  readonly draws: boolean;
  /** The next thing of that kind that is pressed; null if Escape is. */
  pick(kind: Picked["kind"]): Promise<Picked | null>;
  /** Nothing is waited for any longer: what did gets null. */
  endPick(): void;
  /** Each press on a block or joint while nothing else waits for one; the same for `onHover`. */
  onPick(call: (picked: Picked) => void): () => void;
  onHover(call: (picked: Picked | null) => void): () => void;
  /** Each press on the surface of the form, while that is shown. */
  onSurface(call: (at: Point) => void): () => void;
  /** Indices in the head of `blocks`; replaces what was highlighted. */
  highlight(what: { blocks?: readonly number[]; joints?: readonly number[] }): void;
  flyTo(at: Point, away_m?: number): void;
  fit(): void;
  /** A proof instead of that of the chosen case: the answer to a question. Null: back again. */
  showProof(answer: Sheaf | null): void;
  /** The answer of /api/node, standing at its node where the form is shown; null takes it away. */
  showPolygon(told: unknown): void;
  /** In plan under the pointer, at a level; null where the pointer is above the horizon. */
  groundPoint(event: { clientX: number; clientY: number }, level_m?: number): Point | null;
  /** On the walking surface under the pointer (or on the blocks, where nothing is laid on them). */
  deckPoint(event: { clientX: number; clientY: number }): Point | null;
  /** The walking surface straight above or below a place in plan. */
  deckAt(x: number, y: number): Point | null;
  addHandle(asked: HandleAsked): Handle;
  /** Drawn over the structure under a name of the caller's; null takes it away. */
  overlay(name: string, what: Overlay | null): void;
  /** Draws once more soon; everything above does so by itself. */
  redraw(): void;
}
