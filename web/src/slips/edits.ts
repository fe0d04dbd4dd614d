// Changes on their way to the brief: grouped, one request at a time, the newest of a group only.

import type { KeyChange } from "../api";
import type { Fault } from "../source";

export type Change = KeyChange; // text: TOML; empty takes the key out
export type { Fault };
export type Outcome =
  | { kind: "taken"; revision: number; before: number }
  | { kind: "faults"; faults: Fault[] }
  | { kind: "moved"; revision: number } // someone else was first
  | { kind: "gone"; says: string }; // no answer

export interface EditPort {
  revision(): number;
  send(revision: number, changes: Change[]): Promise<Outcome>;
}
export interface Told {
  taken(group: string, changes: Change[], revision: number, before: number): void;
  faults(group: string, changes: Change[], faults: Fault[]): void;
  moved(group: string, changes: Change[]): void;
  gone(changes: Change[], says: string): void; // those that waited behind it too
}

export class Edits {
  private readonly waiting = new Map<string, Change[]>();
  private going: Promise<void> | null = null;

  constructor(private readonly port: EditPort, private readonly told: Told) {}

  /** Changes that belong together, under a name: a field's key, or a handle's. */
  put(group: string, changes: Change[]): void {
    this.waiting.set(group, changes);
    this.going ??= this.go().finally(() => {
      this.going = null;
    });
  }

  /** When all that was put has been answered. */
  async settled(): Promise<void> {
    while (this.going) await this.going;
  }

  private async go(): Promise<void> {
    for (let next = this.waiting.entries().next(); !next.done; next = this.waiting.entries().next()) {
      const [group, changes] = next.value;
      this.waiting.delete(group);
      const outcome = await this.port.send(this.port.revision(), changes);
      if (outcome.kind === "taken") this.told.taken(group, changes, outcome.revision, outcome.before);
      if (outcome.kind === "faults") this.told.faults(group, changes, outcome.faults);
      if (outcome.kind === "moved") this.told.moved(group, changes);
      if (outcome.kind === "gone") {
        const all = [changes, ...this.waiting.values()].flat();
        this.waiting.clear();
        this.told.gone(all, outcome.says);
      }
    }
  }
}
