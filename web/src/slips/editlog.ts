// The changes that this page sent and no file holds yet, so that they can be made once more.

import type { KeyChange } from "../api";

export class EditLog {
  private done: KeyChange[][] = [];
  private undone: KeyChange[][] = [];

  made(changes: readonly KeyChange[]): void {
    this.done.push([...changes]);
    this.undone = [];
  }
  wentBack(count: number): void {
    for (let i = 0; i < count; ++i) this.move(this.done, this.undone);
  }
  wentOn(count: number): void {
    for (let i = 0; i < count; ++i) this.move(this.undone, this.done);
  }
  /** A file holds them now, or they are wanted no longer. */
  clear(): void {
    this.done = [];
    this.undone = [];
  }
  /** The last text of each key, in the order in which they were last set. */
  changes(): KeyChange[] {
    return lastOfEach(this.done.flat());
  }
  private move(from: KeyChange[][], to: KeyChange[][]): void {
    const last = from.pop();
    if (last !== undefined) to.push(last);
  }
}

/** What is set as a whole after a member of it makes the member's own change void. */
export function lastOfEach(list: readonly KeyChange[]): KeyChange[] {
  const kept = new Map<string, string>();
  for (const { key, text } of list) {
    for (const other of [...kept.keys()]) if (other === key || other.startsWith(`${key}[`) || other.startsWith(`${key}.`)) kept.delete(other);
    kept.set(key, text);
  }
  return [...kept].map(([key, text]) => ({ key, text }));
}
