// Pieces by name: each made again only when what it is made of is another.

import { Group } from "three";
import type { Label } from "./labels";
import { clear, type LegendLine, type Piece } from "./pieces";

interface Slot {
  of: readonly unknown[];
  piece: Piece | null;
}

export class Slots {
  readonly group = new Group();
  private readonly all = new Map<string, Slot>();
  private asked = new Set<string>();

  begin(): void {
    this.asked = new Set();
  }
  /** `of`: everything that `make` reads; it is not made again while those are the same. */
  want<P extends Piece>(name: string, of: readonly unknown[], make: () => P | null): P | null {
    this.asked.add(name);
    const kept = this.all.get(name);
    if (kept !== undefined && kept.of.length === of.length && kept.of.every((value, i) => Object.is(value, of[i]))) return kept.piece as P | null;
    if (kept?.piece) clear(kept.piece.group);
    const piece = make();
    if (piece !== null) this.group.add(piece.group);
    this.all.set(name, { of, piece });
    return piece;
  }
  /** What was not asked for since `begin` is cleared away. */
  end(): void {
    for (const [name, slot] of this.all) {
      if (this.asked.has(name)) continue;
      if (slot.piece) clear(slot.piece.group);
      this.all.delete(name);
    }
  }
  forget(): void {
    this.begin();
    this.end();
  }
  /** What was asked for since `begin`. */
  get(name: string): Piece | null {
    return !this.asked.has(name) ? null : this.all.get(name)?.piece ?? null;
  }
  labels(): Label[] {
    return [...this.all.values()].flatMap((slot) => slot.piece?.labels ?? []);
  }
  legend(): LegendLine[] {
    return [...this.all.values()].flatMap((slot) => slot.piece?.legend ?? []);
  }
}
