// The node of the form whose forces are asked: one for the page, told in the slip and drawn in the structure.

import type { Api } from "./api";
import { Refused } from "./source";
import { wordsOf, type Store } from "./state";
import type { Structure } from "./structure/structure";

export interface NodeTold {
  at: readonly [number, number];
  of: number | null; // revision of the form that it was told of
  answer: unknown;
}

export class Nodes {
  told: NodeTold | null = null;
  /** Why there is none. */
  trouble = "";
  private round = 0;
  private readonly watchers = new Set<() => void>();

  constructor(private readonly parts: { api: Pick<Api, "node">; store: Store; structure: Pick<Structure, "showPolygon"> }) {
    // another form has other forces there
    parts.store.watch((now) => now.state?.parts.shape.of, () => this.anew());
  }
  subscribe(call: () => void): () => void {
    this.watchers.add(call);
    return () => this.watchers.delete(call);
  }
  async ask(x: number, y: number): Promise<void> {
    const mine = ++this.round;
    const of = this.parts.store.get().state?.parts.shape.of ?? null;
    try {
      const answer = await this.parts.api.node(x, y);
      if (mine === this.round) this.tell({ at: [x, y], of, answer }, "");
    } catch (error) {
      if (mine === this.round) this.tell(null, error instanceof Refused && error.status === 404 ? "There is no force polygon here." : wordsOf(error));
    }
  }
  clear(): void {
    this.round++;
    this.tell(null, "");
  }
  private anew(): void {
    const { state } = this.parts.store.get();
    if (this.told === null || state === null) return;
    const { of } = state.parts.shape;
    if (of !== this.told.of && of === state.revision) void this.ask(...this.told.at);
  }
  private tell(told: NodeTold | null, trouble: string): void {
    this.told = told;
    this.trouble = trouble;
    this.parts.structure.showPolygon(told === null ? null : told.answer);
    for (const call of [...this.watchers]) call();
  }
}

/** To the moment at which the surface can be pressed and the polygon stands. */
export function goToSurface(store: Store): void {
  if (store.get().moment !== "shaped") store.set({ moment: "shaped" });
  const { shows } = store.get();
  if (!shows.has("surface")) store.set({ shows: new Set([...shows, "surface"]) });
}
