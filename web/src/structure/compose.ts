// From the moment and what is to be shown to the pieces of the picture.

import { Box3, Vector3, type Mesh, type MeshLambertMaterial } from "three";
import { casesOf, numberOf, supportsOf, tablesOf, textOf, type JointHead, type StageHead } from "../heads";
import type { Moment, Stone } from "../life/moments";
import type { Sheaf } from "../sheaf";
import type { Lodge, Show } from "../state";
import type { Views } from "../views";
import type { Blocks, Look } from "./blocks";
import { judged } from "../slips/answer";
import { stillWanted } from "./canvas";
import { caseFor } from "./cases";
import { chosenJoints } from "./chosen";
import { fitProof, type Fitted } from "./fitted";
import { groundPiece, groundPlane } from "./ground";
import { livePiece } from "./loads";
import { factorFor, largestShift, motionOf, toAndFro, type Motion } from "./motion";
import { padsPiece } from "./pads";
import type { Palette } from "./palette";
import { emptyPiece, lineSegments, type Piece } from "./pieces";
import { polygonPiece } from "./polygon";
import { printPiece, type PrintPiece } from "./print";
import { flowPiece, netPiece, phiPiece, planPiece, surfacePiece } from "./shape";
import { centringPiece, surveyPiece } from "./site";
import type { Slots } from "./slots";
import { thrustPiece } from "./thrust";

export interface Asked {
  now: Lodge;
  stone: Stone;
  moment: Moment;
  stages: StageHead[] | null;
  blocks: Blocks | null;
  joints: readonly JointHead[];
  answer: Sheaf | null;
  highlighted: { blocks: readonly number[]; joints: readonly number[] };
  polygon: unknown;
  walk: Mesh | null;
}
export interface Drawn {
  box: Box3;
  /** Three numbers each: all of them are to be in the picture. */
  outline: Float32Array;
  fills: string; // "all", or what fills the picture instead
  says: string;
  fall: string; // where it would hinge and slip, while that is drawn
  level_m: number;
  step: ((now: number) => boolean) | null;
}

export class Composer {
  private moving: { of: Motion; step: (now: number) => boolean } | null = null;
  private printing: { of: PrintPiece; step: (now: number) => boolean } | null = null;
  constructor(
    private readonly slots: Slots,
    private readonly palette: Palette,
    private readonly views: Views,
  ) {}

  compose(asked: Asked): Drawn {
    const { stone, blocks } = asked;
    const shows = asked.now.shows;
    const shape = this.views.want("shape").sheaf;
    const box = blocks !== null && !blocks.box.isEmpty() ? blocks.box.clone() : boxOf(shape);
    if (!box.isEmpty()) box.expandByVector(box.getSize(new Vector3()).multiplyScalar(0.07));
    const size_m = Math.max(0.5, box.getSize(new Vector3()).length());
    const level_m = levelOf(blocks?.sheaf ?? shape, box);
    const drawn: Drawn = { box, outline: blocks !== null ? blocks.outline : (shape?.f32("vertices") ?? new Float32Array(0)), fills: "all", says: "", fall: "", level_m, step: null };
    this.slots.begin();
    if (stone.kind === "printed") this.print(asked, drawn);
    else {
      this.form(asked, shape, size_m, blocks === null);
      if (shows.has("ground") && !box.isEmpty()) this.ground(asked.now, box, size_m, level_m, stone.kind === "footings");
      this.proof(asked, size_m, drawn);
      this.site(asked, size_m);
    }
    this.dress(asked, drawn);
    this.slots.end();
    return drawn;
  }

  private form({ stone, now, polygon }: Asked, shape: Sheaf | null, size_m: number, noBlocks: boolean): void {
    if (shape === null) return;
    const { palette, slots } = this;
    const early = stone.kind === "drawn" || stone.kind === "shaped";
    const has = (show: Show): boolean => now.shows.has(show);
    if (stone.kind === "drawn" || has("plan")) slots.want("plan", [shape], () => planPiece(shape, palette));
    if ((stone.kind === "shaped" && has("surface")) || (noBlocks && !early)) {
      const clear = has("net");
      slots.want("surface", [shape, clear], () => surfacePiece(shape, palette, clear));
    }
    if (has("net")) slots.want("net", [shape], () => netPiece(shape, palette));
    if (has("flow")) slots.want("flow", [shape, size_m], () => flowPiece(shape, size_m, palette));
    if (has("phi")) slots.want("phi", [shape, size_m], () => phiPiece(shape, size_m, palette));
    if (polygon !== null && stone.kind === "shaped") slots.want("polygon", [polygon, size_m], () => polygonPiece(polygon, size_m, palette));
  }
  private ground(now: Lodge, box: Box3, size_m: number, level_m: number, told: boolean): void {
    this.slots.want("earth", [level_m, box.min.x, box.max.x, box.min.y, box.max.y], () => groundPlane(box, level_m, this.palette));
    const ground = this.views.want("ground").sheaf;
    if (ground === null) return;
    const of = numberOf(ground.head["of"]);
    const older = of > 0 && now.state !== null && of !== now.state.revision ? { of, revision: now.state.revision } : null;
    this.slots.want("ground", [ground, size_m, told, older?.revision], () => groundPiece(ground, size_m, told, older, this.palette));
  }
  private proof(asked: Asked, size_m: number, drawn: Drawn): void {
    const { now, blocks, joints, stone } = asked;
    const has = (show: Show): boolean => now.shows.has(show);
    const early = stone.kind === "drawn" || stone.kind === "shaped" || stone.kind === "stage" || stone.kind === "closed" || stone.kind === "taken down";
    if (blocks === null || early) return;
    if (asked.walk !== null && has("walk")) this.slots.want("walk", [asked.walk], () => this.walkPiece(asked.walk as Mesh));
    const id = caseFor(stone.kind, now.caseId, this.views);
    const load = casesOf(blocks.sheaf).find((each) => each.id === id);
    if (has("live") && load !== undefined && asked.answer === null) this.slots.want("live", [blocks, id, size_m], () => livePiece(load, size_m, this.palette));
    const wantsProof = has("thrust") || has("pads") || has("moved") || has("mechanism") || asked.answer !== null;
    const proof = asked.answer ?? (wantsProof ? this.views.want("proof", { case: id }).sheaf : null);
    if (proof === null) return;
    const fitted = fitProof(blocks.heads, joints, proof);
    if (fitted === null) return;
    const words = proof.head["words"];
    drawn.says = `${Array.isArray(words) ? "As asked" : textOf(words)}: ${asked.answer === null ? textOf(proof.head["verdict"]) : judged(proof).says}.`;
    if (has("thrust") || asked.answer !== null) this.slots.want("thrust", [blocks, proof, size_m], () => thrustPiece(fitted.joints, proof, size_m, this.palette));
    if (has("pads")) this.slots.want("pads", [blocks, proof], () => padsPiece(fitted.joints, proof, this.palette));
    this.motion(asked, proof, fitted, size_m, drawn);
  }
  private walkPiece(walk: Mesh): Piece {
    const piece = emptyPiece();
    (walk.material as MeshLambertMaterial).color.copy(this.palette.of("timber"));
    const shown = walk.clone();
    shown.geometry = walk.geometry.clone();
    shown.material = (walk.material as MeshLambertMaterial).clone();
    piece.group.add(shown);
    piece.legend.push({ sign: "patch", colour: "--timber", text: "walking surface" });
    return piece;
  }
  private motion({ now, blocks }: Asked, proof: Sheaf, fitted: Fitted, size_m: number, drawn: Drawn): void {
    const kind = now.shows.has("mechanism") && proof.has("mechanism") ? "mechanism" : now.shows.has("moved") ? "moved" : null;
    if (kind === null || blocks === null) return;
    const piece = this.slots.want("motion", [blocks, proof, kind], () => {
      const motion = motionOf(kind, proof, blocks.heads, fitted.rows, size_m);
      if (motion === null) return null;
      const made: Piece & { motion: Motion } = { ...emptyPiece(), motion };
      for (let b = 0; b < blocks.heads.length; ++b)
        if (blocks.heads[b]?.fixed === false) made.group.add(lineSegments(blocks.linesOf(b), this.palette.of("quiet"), 0.55));
      made.legend.push({ sign: "dash", colour: "--quiet", text: motion.words });
      return made;
    });
    if (piece === null) return;
    if (kind === "mechanism") drawn.fall = textOf(proof.head["mechanism_words"]);
    const { motion } = piece;
    if (kind === "moved" || stillWanted()) {
      blocks.move((b) => motion.at(b, 1));
      return;
    }
    if (this.moving?.of !== motion)
      this.moving = {
        of: motion,
        step: (time) => {
          blocks.move((b) => motion.at(b, toAndFro(time)));
          return true;
        },
      };
    drawn.step = this.moving.step;
  }
  private site({ stone, moment, stages, now, blocks }: Asked, size_m: number): void {
    const has = (show: Show): boolean => now.shows.has(show);
    if (has("seats") && (stone.kind === "stage" || stone.kind === "closed" || stone.kind === "taken down")) {
      const centring = this.views.want("centring").sheaf;
      const stage = moment.stage === null ? null : (stages?.[moment.stage] ?? null);
      if (centring !== null) this.slots.want("centring", [centring, stage], () => centringPiece(centring, stage, this.palette));
    }
    if (stone.kind === "as built" && has("survey") && blocks !== null) {
      const survey = this.views.want("survey").sheaf;
      if (survey === null) return;
      this.slots.want("survey", [survey, blocks, size_m], () => {
        const largest = largestShift(survey.f32("move"), blocks.heads.map((head) => head.at)).shift_m;
        const marks = tablesOf(survey.head["marks"]).map((mark) => (typeof mark["off_m"] === "number" ? mark["off_m"] : 0));
        return surveyPiece(survey, blocks.sheaf, factorFor(Math.max(largest, 0, ...marks), size_m, 0.08), size_m, this.palette);
      });
    }
  }
  /** In its place, between its neighbours in outline, under the thrust of the weight. */
  private print(asked: Asked, drawn: Drawn): void {
    const block = asked.now.chosen.block;
    const layers = this.views.want("layers", block === null ? {} : { block }).sheaf;
    if (layers === null || layers.rows("tips") === 0) return;
    const piece = this.slots.want("print", [layers], () => printPiece(layers, this.palette));
    if (piece === null) return;
    drawn.box = piece.box.clone().expandByScalar(0.1);
    drawn.outline = layers.f32("tips");
    this.aroundThePrint(asked, textOf(layers.head["block"]), piece.box.getSize(new Vector3()).length());
    drawn.fills = `block ${textOf(layers.head["block"])}`;
    drawn.says = piece.words;
    const share = asked.now.printShare;
    if (share !== null || stillWanted()) {
      piece.show(share ?? 1);
      return;
    }
    if (this.printing?.of !== piece) {
      let began: number | null = null;
      this.printing = {
        of: piece,
        step: (time) => {
          began ??= time;
          const through = Math.min(1, (time - began) / 12_000);
          piece.show(through);
          return through < 1;
        },
      };
    }
    drawn.step = this.printing.step;
  }
  private aroundThePrint({ blocks, joints }: Asked, id: string, size_m: number): void {
    if (blocks === null) return;
    const names = new Set(joints.flatMap(({ a, b }) => (a === id ? [b] : b === id ? [a] : [])));
    const beside = blocks.heads.flatMap((head, b) => (names.has(head.id) ? [b] : []));
    this.slots.want("beside", [blocks, id], () => {
      const piece = emptyPiece();
      for (const b of beside) piece.group.add(lineSegments(blocks.linesOf(b), this.palette.of("quiet"), 0.4));
      return piece;
    });
    const proof = this.views.want("proof", { case: caseFor("struck", "", this.views) }).sheaf;
    const fitted = proof === null ? null : fitProof(blocks.heads, joints, proof);
    if (proof !== null && fitted !== null) this.slots.want("thrust", [blocks, proof, size_m], () => thrustPiece(fitted.joints, proof, size_m, this.palette));
  }
  /** Which blocks are solid, seen through, or not there; and what is chosen. */
  private dress({ stone, moment, stages, now, blocks, joints, highlighted, answer }: Asked, drawn: Drawn): void {
    if (blocks === null) return;
    blocks.group.visible = stone.kind !== "drawn" && stone.kind !== "shaped" && this.slots.get("print") === null;
    const moves = this.slots.get("motion");
    if (moves === null || !blocks.group.visible) blocks.move(null);
    const stage = moment.stage === null ? undefined : stages?.[moment.stage];
    const there = stage === undefined || stone.kind === "closed" ? null : new Set(stage.blocks);
    const free = blocks.heads.flatMap((head, b) => (head.fixed ? [] : [b]));
    if (blocks.group.visible) drawn.says += `${drawn.says === "" ? "" : " "}${free.filter((b) => there === null || there.has(b)).length} of ${free.length} blocks are there.`;
    const base: Look = this.slots.get("pads") !== null ? "ghost" : this.slots.get("thrust") !== null || this.slots.get("survey") !== null ? "glass" : "solid";
    const kept = answer === null ? null : fitProof(blocks.heads, joints, answer);
    blocks.setLooks((b) => {
      if (there !== null && !there.has(b) && blocks.heads[b]?.fixed !== true) return "away";
      if (kept !== null && (kept.rows[b] ?? -1) < 0) return "away";
      return base;
    });
    const chosen = highlighted.joints.length > 0 ? highlighted.joints : joints.flatMap((joint, j) => (joint.id === now.chosen.joint ? [j] : []));
    if (chosen.length > 0 && blocks.group.visible) {
      const size_m = Math.max(0.5, drawn.box.getSize(new Vector3()).length());
      this.slots.want("chosen", [blocks, size_m, ...chosen], () => chosenJoints(chosen.flatMap((j) => joints[j] ?? []), size_m, this.palette));
    }
  }
}

function boxOf(shape: Sheaf | null): Box3 {
  const box = new Box3();
  if (shape !== null) box.setFromArray(shape.f32("vertices"));
  return box;
}
function levelOf(sheaf: Sheaf | null, box: Box3): number {
  const levels = sheaf === null ? [] : supportsOf(sheaf).flatMap((support) => [support.a[2], support.b[2]]);
  const least = levels.length > 0 ? Math.min(...levels) : box.min.z;
  return Number.isFinite(least) ? least : 0;
}
