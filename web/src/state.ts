// One store for the page: what the server last said, and what is being looked at.

import type { Finding, Findings, Keys, LodgeState, PartKnown } from "./api";
import type { Fault } from "./source";

/** What is drawn over the blocks; each belongs to some moments (life/moments.ts). */
export type Show =
  | "plan" | "net" | "flow" | "phi" | "surface"
  | "thrust" | "pads" | "mechanism" | "moved" | "live" | "walk"
  | "ground" | "seats" | "layers" | "survey";

export interface Chosen {
  block: string | null;
  joint: string | null;
}

export interface Lodge {
  state: LodgeState | null;
  findings: Findings | null;
  keys: Keys | null;
  /** "gone": the server does not answer, what is shown is the last it said. */
  server: "coming" | "here" | "gone";
  daybookNumber: number;
  moment: string;
  shows: ReadonlySet<Show>;
  caseId: string;
  chosen: Chosen;
  /** How much of a block is printed, 0 to 1; null: the nozzle runs by itself. */
  printShare: number | null;
  chosenFinding: Finding | null;
  /** What is shown is the answer to a question, not the proof of a case. */
  tried: boolean;
  /** Name of the slip that lies at the right; none: null. */
  slip: string | null;
  /** One sentence to be told to everyone, screen readers too. */
  note: string;
  /** What went wrong last; stays until it is dismissed, or a later deed goes well or wrong. */
  trouble: string;
  faults: Fault[];
}

export function emptyLodge(): Lodge {
  return {
    state: null, findings: null, keys: null, server: "coming", daybookNumber: 0,
    moment: "struck", shows: new Set<Show>(["thrust", "ground"]), caseId: "", chosen: { block: null, joint: null }, printShare: null,
    chosenFinding: null, tried: false, slip: null, note: "", trouble: "", faults: [],
  };
}

/** Of a server that was started since. */
export function isAnother(now: LodgeState, before: LodgeState): boolean {
  return now.since !== undefined && before.since !== undefined && now.since !== before.since;
}
/** Answers and events may overtake each other: of one server what it told later is believed. */
export function takeState(store: Store, state: LodgeState): void {
  const now = store.get().state;
  const before = now !== null && ((state.since ?? 0) < (now.since ?? 0) || (state.since === now.since && (state.told ?? 0) < (now.told ?? 0)));
  if (before) return;
  store.set(now !== null && isAnother(state, now) ? { state, keys: null } : { state });
}

/** Of the newest revision, shown already, and not whole yet. */
export function isDraft(known: PartKnown, revision: number): boolean {
  return (known.draft ?? "") !== "" && known.of === revision && known.failed === "";
}
export function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

export class Store {
  private now: Lodge;
  private readonly told = new Set<(now: Lodge, before: Lodge) => void>();
  constructor(first: Lodge = emptyLodge()) {
    this.now = first;
  }
  get(): Lodge {
    return this.now;
  }
  set(change: Partial<Lodge>): void {
    const before = this.now;
    this.now = { ...before, ...change };
    for (const call of [...this.told]) call(this.now, before);
  }
  /** Called on every change; gives back what ends it. */
  subscribe(call: (now: Lodge, before: Lodge) => void): () => void {
    this.told.add(call);
    return () => this.told.delete(call);
  }
  /** Called at once, and when what `of` gives is another value. */
  watch<T>(of: (now: Lodge) => T, call: (value: T) => void): () => void {
    let last = of(this.now);
    call(last);
    return this.subscribe((now) => {
      const value = of(now);
      if (Object.is(value, last)) return;
      last = value;
      call(value);
    });
  }
}
