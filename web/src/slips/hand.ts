// The page's hand on the brief: sends changes, tells what came of them, takes back and brings back.

import type { Api, KeyChange } from "../api";
import { Refused, type Fault } from "../source";
import { isAnother, takeState, wordsOf, type Store } from "../state";
import { Deeds } from "./deeds";
import { EditLog } from "./editlog";
import { Edits, type Outcome } from "./edits";

export type Said =
  | { kind: "taken"; group: string; changes: KeyChange[] }
  | { kind: "faults"; group: string; changes: KeyChange[]; faults: Fault[] }
  | { kind: "moved"; group: string; changes: KeyChange[] }
  | { kind: "left"; changes: KeyChange[] } // not sent, and wanted no longer
  | { kind: "gone"; changes: KeyChange[]; says: string };

const kSameDeed_ms = 1500;

export class Hand {
  readonly log = new EditLog();
  private readonly deeds = new Deeds();
  private readonly edits: Edits;
  private readonly told = new Set<(said: Said) => void>();
  private readonly held = new Set<string>();
  private lastGroup = "";
  private lastTime = -Infinity;

  constructor(private readonly desk: { api: Pick<Api, "edit" | "undo" | "redo" | "state">; store: Store }, private readonly now: () => number = () => performance.now()) {
    this.edits = new Edits(
      { revision: () => desk.store.get().state?.revision ?? 0, send: (revision, changes) => this.send(revision, changes) },
      {
        taken: (group, changes, revision, before) => this.taken(group, changes, revision, before),
        faults: (group, changes, faults) => this.say({ kind: "faults", group, changes, faults }),
        moved: (group, changes) => {
          desk.store.set({ trouble: "The brief was changed elsewhere meanwhile. This page shows the newest; your change was not made." });
          this.say({ kind: "moved", group, changes });
        },
        gone: (changes, says) => this.say({ kind: "gone", changes, says }),
      },
    );
  }

  subscribe(call: (said: Said) => void): () => void {
    this.told.add(call);
    return () => this.told.delete(call);
  }
  change(group: string, changes: KeyChange[]): void {
    if (changes.length > 0) this.edits.put(group, changes);
  }
  /** Of what was not sent: it is wanted no longer. */
  leave(changes: KeyChange[]): void {
    this.say({ kind: "left", changes });
  }
  /** Until `letGo`, all changes of this group are one deed, undone as one. */
  hold(group: string): void {
    this.held.add(group);
  }
  async letGo(group: string): Promise<void> {
    await this.edits.settled();
    this.held.delete(group);
    this.lastTime = -Infinity;
    this.deeds.close();
  }

  undo(): Promise<void> {
    return this.go("undo");
  }
  redo(): Promise<void> {
    return this.go("redo");
  }

  private async go(way: "undo" | "redo"): Promise<void> {
    await this.edits.settled();
    const { store, api } = this.desk;
    const first = store.get().state;
    if (first === null || !first[way]) return;
    const count = way === "undo" ? this.deeds.undos(first.revision) : this.deeds.redos(first.revision);
    let state = first;
    try {
      for (let i = 0; i < count && state[way]; ++i) {
        state = way === "undo" ? await api.undo() : await api.redo();
        takeState(store, state);
        this.log[way === "undo" ? "wentBack" : "wentOn"](1);
      }
      if (way === "undo") this.deeds.wentBack(first.revision, state.revision);
      else this.deeds.wentOn(first.revision, state.revision);
      store.set({ note: way === "undo" ? "The last change is taken back." : "The change is there again.", trouble: "" });
    } catch (error) {
      store.set({ trouble: wordsOf(error) });
    }
  }

  private taken(group: string, changes: KeyChange[], revision: number, before: number): void {
    const time = this.now();
    const joins = group === this.lastGroup && (this.held.has(group) || time - this.lastTime < kSameDeed_ms);
    this.deeds.made(revision, before, joins);
    this.log.made(changes);
    this.lastGroup = group;
    this.lastTime = time;
    if (this.desk.store.get().trouble !== "") this.desk.store.set({ trouble: "" });
    this.say({ kind: "taken", group, changes });
  }

  private async send(revision: number, changes: KeyChange[]): Promise<Outcome> {
    const { api, store } = this.desk;
    try {
      const state = await api.edit(revision, changes);
      takeState(store, state);
      return { kind: "taken", revision: state.revision, before: revision };
    } catch (error) {
      if (!(error instanceof Refused)) return { kind: "gone", says: String(error) };
      if (error.status === 400) return { kind: "faults", faults: error.faults };
      if (error.status !== 409) return { kind: "gone", says: error.status === 0 ? "The server did not answer." : error.message };
    }
    try {
      const before = store.get().state, newest = await api.state();
      takeState(store, newest);
      if (before !== null && isAnother(newest, before)) return { kind: "gone", says: "The server was started anew." };
      return { kind: "moved", revision: newest.revision };
    } catch (error) {
      return { kind: "gone", says: error instanceof Error ? error.message : String(error) };
    }
  }

  private say(said: Said): void {
    for (const call of [...this.told]) call(said);
  }
}

/** Ctrl+Z takes back; Ctrl+Shift+Z and Ctrl+Y bring back. */
export function deedOf(event: { key: string; ctrlKey: boolean; metaKey: boolean; shiftKey: boolean; altKey: boolean }): "undo" | "redo" | null {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return null;
  const key = event.key.toLowerCase();
  if (key === "z") return event.shiftKey ? "redo" : "undo";
  return key === "y" && !event.shiftKey ? "redo" : null;
}
