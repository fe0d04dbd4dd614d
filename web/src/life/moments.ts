// The stones of the life of the bridge, from one springing over the key to the other.

import type { PartName } from "../api";
import type { StageHead } from "../heads";
import type { Show } from "../state";

export type Kind =
  | "drawn" | "shaped" | "cut" | "printed" | "footings" | "stage" | "closed"
  | "struck" | "walked" | "as built" | "taken down";

export interface Stone {
  kind: Kind;
  name: string;
  /** What has to be worked out for it; null: nothing. */
  part: PartName | null;
  /** Stages it stands for, as indices; null: it is a moment by itself. */
  stages: [number, number] | null;
}
export interface Life {
  stones: Stone[];
  key: number; // index of the stone at the crown
}

const kGroup = 8;

/** `stages` null: not worked out yet; one stone then stands for all of them. */
export function lifeOf(stages: readonly StageHead[] | null, keyStage: number): Life {
  const left: Stone[] = [
    { kind: "drawn", name: "drawn", part: null, stages: null },
    { kind: "shaped", name: "shaped", part: "shape", stages: null },
    { kind: "cut", name: "cut", part: "blocks", stages: null },
    { kind: "printed", name: "printed", part: "whole", stages: null },
    { kind: "footings", name: "footings", part: "whole", stages: null },
  ];
  const right: Stone[] = [];
  const some = stages !== null && stages.length > 0;
  const key = some ? Math.max(0, Math.min(stages.length - 1, keyStage)) : 0;
  const cuts = some ? turns(stages, key) : null;
  if (cuts === null) left.push({ kind: "stage", name: "placed", part: "whole", stages: null });
  else for (const [from, to] of evenly(0, key)) left.push(range(to - from > 1 ? `${from + 1}–${to}` : `${to}`, from, to));
  const closed: Stone = { kind: "closed", name: "closed", part: "whole", stages: cuts === null ? null : [key, key + 1] };
  if (cuts !== null && cuts.clear > key + 1) right.push(range("lowered", key + 1, cuts.clear));
  right.push({ kind: "struck", name: "struck", part: "proof", stages: null });
  if (cuts !== null && cuts.full > cuts.clear) right.push(range("deck on", cuts.clear, cuts.full));
  right.push({ kind: "walked", name: "walked on", part: "proof", stages: null });
  right.push({ kind: "as built", name: "as built", part: "whole", stages: null });
  if (cuts !== null && cuts.raised > cuts.full) right.push(range("deck off", cuts.full, cuts.raised));
  if (cuts !== null && cuts.taken > cuts.raised) right.push(range("held again", cuts.raised, cuts.taken));
  const back: [number, number] | null = cuts !== null && stages !== null && stages.length > cuts.taken ? [cuts.taken, stages.length] : null;
  right.push({ kind: "taken down", name: "taken down", part: "whole", stages: back });
  return { stones: [...left, closed, ...right], key: left.length };
}

function range(name: string, from: number, to: number): Stone {
  return { kind: "stage", name, part: "whole", stages: [from, to] };
}
function evenly(from: number, to: number): [number, number][] {
  const groups = Math.min(8, Math.ceil((to - from) / kGroup));
  const cut = (i: number): number => from + Math.round((i * (to - from)) / groups);
  return Array.from({ length: groups }, (_, i) => [cut(i), cut(i + 1)]);
}

interface Turns {
  clear: number; // first stage after the centring is gone
  full: number; // first after all is laid
  raised: number; // first at which the centring is back
  taken: number; // first at which a block is away
}
/** Where the way up ends and the way back begins, from what stands and on how many seats. */
function turns(stages: readonly StageHead[], key: number): Turns {
  const whole = stages[key]?.blocks.length ?? 0;
  const end = stages.length;
  const first = (from: number, is: (stage: StageHead) => boolean): number => {
    for (let i = from; i < end; ++i) if (is(stages[i] as StageHead)) return i;
    return end;
  };
  const gone = first(key + 1, (stage) => stage.seats.length === 0);
  const clear = Math.min(end, gone + 1);
  const raised = first(clear, (stage) => stage.seats.length > 0 || stage.blocks.length < whole);
  const taken = first(clear, (stage) => stage.blocks.length < whole);
  // What is laid last is taken off first: the same words twice mark the turn.
  let full = raised;
  for (let i = clear; i + 1 < raised; ++i)
    if (stages[i]?.words === stages[i + 1]?.words) {
      full = i + 1;
      break;
    }
  return { clear, full, raised: Math.min(raised, taken), taken };
}

/** "closed", "stage 7", "as built" … as findings name them. */
export function momentId(stone: Stone, stage: number | null, stages: readonly StageHead[] | null): string {
  if (stone.kind === "stage" || (stone.kind === "taken down" && stage !== null))
    return stage === null ? "stage" : `stage ${stages?.[stage]?.step ?? stage + 1}`;
  return stone.kind;
}

export interface Moment {
  stone: number;
  stage: number | null;
}
/** Where an id lies in the life; an id that is not there gives the stone at the crown. */
export function findMoment(id: string, life: Life, stages: readonly StageHead[] | null): Moment {
  const step = /^stage (\d+)$/.exec(id)?.[1];
  if (step !== undefined && stages !== null) {
    const index = stages.findIndex((stage) => stage.step === Number(step));
    const stone = life.stones.findIndex((each) => each.stages !== null && index >= each.stages[0] && index < each.stages[1]);
    if (stone >= 0) return { stone, stage: index };
  }
  const kind = id.startsWith("stage") ? "stage" : id === "walked on" ? "walked" : id;
  const stone = life.stones.findIndex((each) => each.kind === kind);
  if (stone < 0) return { stone: life.key, stage: life.stones[life.key]?.stages?.[0] ?? null };
  const found = life.stones[stone] as Stone;
  if (found.stages === null) return { stone, stage: null };
  return { stone, stage: found.kind === "taken down" ? found.stages[1] - 1 : found.stages[0] };
}

/** One step along: stage by stage inside a stone, stone by stone where `whole`. */
export function step(moment: Moment, by: 1 | -1, life: Life, whole: boolean): Moment {
  const here = life.stones[moment.stone];
  if (!whole && here?.stages != null && moment.stage !== null) {
    const stage = moment.stage + by;
    if (stage >= here.stages[0] && stage < here.stages[1]) return { stone: moment.stone, stage };
  }
  const stone = Math.max(0, Math.min(life.stones.length - 1, moment.stone + by));
  if (stone === moment.stone) return moment;
  const next = life.stones[stone]?.stages ?? null;
  return { stone, stage: next === null ? null : by > 0 || whole ? next[0] : next[1] - 1 };
}

const kShows: { [kind in Kind]: { first: Show[]; may: Show[] } } = {
  drawn: { first: ["plan"], may: ["plan", "ground"] },
  shaped: { first: ["surface", "flow", "ground"], may: ["surface", "flow", "phi", "net", "ground"] },
  cut: { first: ["ground"], may: ["thrust", "pads", "walk", "phi", "ground"] },
  printed: { first: ["layers"], may: ["layers"] },
  footings: { first: ["ground"], may: ["ground", "thrust", "pads"] },
  stage: { first: ["seats", "ground"], may: ["seats", "ground"] },
  closed: { first: ["seats", "ground"], may: ["seats", "ground"] },
  struck: { first: ["thrust", "ground"], may: ["thrust", "pads", "moved", "mechanism", "walk", "flow", "ground"] },
  walked: { first: ["thrust", "live", "ground"], may: ["live", "thrust", "pads", "moved", "mechanism", "walk", "ground"] },
  "as built": { first: ["survey", "ground"], may: ["survey", "thrust", "pads", "ground"] },
  "taken down": { first: ["seats", "ground"], may: ["seats", "ground"] },
};
export function firstShows(kind: Kind): Show[] {
  return kShows[kind].first;
}
export function mayShow(kind: Kind): Show[] {
  return kShows[kind].may;
}
