// Every request of docs/lodge.md, typed.

import { decodeSheaf, type Sheaf } from "./sheaf";
import type { Query, Source } from "./source";

export interface PartKnown {
  of: number | null;
  fresh: boolean;
  failed: string;
  /** What it lacks so far; empty: nothing. */
  draft?: string;
  took_s: number;
}
export type PartName = "shape" | "blocks" | "proof" | "whole";
export interface LodgeState {
  name: string;
  title: string;
  file: string;
  folder: string;
  revision: number;
  saved: boolean;
  /** The served file on the disk, against what was read or last saved. */
  disk?: "same" | "changed" | "gone";
  undo: boolean;
  redo: boolean;
  busy: null | { stage: string; fraction: number };
  daybook: boolean;
  /** When its server began, and how many different states it had told. */
  since?: number;
  told?: number;
  parts: { [part in PartName]: PartKnown };
}

export type Point = readonly [number, number, number];
export type PlaceKind = "block" | "joint" | "support" | "tie" | "foot" | "case" | "stage" | "key" | "none";
export interface Finding {
  id: string;
  weight: 0 | 1 | 2 | 3;
  share: number | null;
  says: string;
  place: { kind: PlaceKind; id: string; at: Point | null };
  moment: string;
  /** Worked out of this revision, which is older than that of the rest. */
  stale?: number;
}
export interface Findings {
  of: number;
  fresh: boolean;
  list: Finding[];
}

export interface Key {
  key: string;
  text: string;
  value: number | null;
  unit: string;
  meaning: string;
  written: "quantity" | "number" | "whole" | "other";
  given: boolean;
}
export interface Keys {
  revision: number;
  groups: { name: string; keys: Key[] }[];
}
export interface KeyChange {
  key: string;
  text: string;
}

export interface Question {
  case: string;
  live_factor: number;
  crowds: { at: [number, number]; radius_m: number; pressure_pa: number }[];
  persons: { at: [number, number]; force_n: number }[];
  pushes: { support: number; shift_m: [number, number, number]; turn_rad: number }[];
  without_blocks: string[];
  without_ties: string[];
  friction: number | null;
  quick?: boolean;
}

export interface Api {
  readonly source: Source;
  state(): Promise<LodgeState>;
  findings(): Promise<Findings>;
  keys(): Promise<Keys>;
  view(name: string, query?: Query, signal?: AbortSignal): Promise<Sheaf>;
  edit(revision: number, changes: KeyChange[]): Promise<LodgeState>;
  undo(): Promise<LodgeState>;
  redo(): Promise<LodgeState>;
  save(name: string): Promise<unknown>;
  reread(revision: number): Promise<LodgeState>;
  run(until: "proof" | "whole"): Promise<unknown>;
  stop(): Promise<unknown>;
  ask(question: Question, signal?: AbortSignal): Promise<Sheaf>;
  node(x: number, y: number): Promise<unknown>;
  compare(file: string): Promise<Sheaf>;
}

export function makeApi(source: Source): Api {
  const get = <T>(path: string): Promise<T> => source.json(path) as Promise<T>;
  const post = <T>(path: string, body: unknown): Promise<T> => source.json(path, body) as Promise<T>;
  return {
    source,
    state: () => get("/api/state"),
    findings: () => get("/api/findings"),
    keys: () => get("/api/keys"),
    view: async (name, query, signal) => decodeSheaf(await source.view(name, query, signal)),
    edit: (revision, changes) => post("/api/edit", { revision, changes }),
    undo: () => post("/api/undo", {}),
    redo: () => post("/api/redo", {}),
    reread: (revision) => post("/api/reread", { revision }),
    save: (name) => post("/api/save", { name }),
    run: (until) => post("/api/run", { until }),
    stop: () => post("/api/stop", {}),
    ask: async (question, signal) => decodeSheaf(await source.bytes("/api/ask", question, signal)),
    node: (x, y) => get(`/api/node?x=${x}&y=${y}`),
    compare: async (file) => decodeSheaf(await source.bytes(`/api/compare?with=${encodeURIComponent(file)}`)),
  };
}
