// How many revisions each deed of this page made: a drag sends many changes but is undone as one.

/** Forgets what it knows when the brief was changed from elsewhere: then each undo is a single one. */
export class Deeds {
  private done: number[] = [];
  private undone: number[] = [];
  private at: number | null = null; // the revision that the last deed led to
  private open = false;

  /** A change led from `before` to `revision`; `joins`: it belongs to the deed before it. */
  made(revision: number, before: number, joins: boolean): void {
    if (this.at !== before) this.clear();
    this.undone = [];
    const last = joins && this.open ? this.done.pop() : undefined;
    this.done.push((last ?? 0) + 1);
    this.open = true;
    this.at = revision;
  }
  /** The deed is over: what comes next is a new one. */
  close(): void {
    this.open = false;
  }

  /** How many undos (redos) take back (bring back) the last deed; 1 where it is not ours. */
  undos(revision: number): number {
    return this.at === revision ? (this.done.at(-1) ?? 1) : 1;
  }
  redos(revision: number): number {
    return this.at === revision ? (this.undone.at(-1) ?? 1) : 1;
  }
  wentBack(before: number, revision: number): void {
    this.went(before, revision, this.done, this.undone);
  }
  wentOn(before: number, revision: number): void {
    this.went(before, revision, this.undone, this.done);
  }

  private went(before: number, revision: number, from: number[], to: number[]): void {
    this.open = false;
    if (this.at !== before) return this.clear();
    const count = from.pop();
    if (count !== undefined) to.push(count);
    this.at = revision;
  }
  private clear(): void {
    this.done = [];
    this.undone = [];
    this.open = false;
    this.at = null;
  }
}
