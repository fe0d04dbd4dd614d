// Sheaves as they are wanted: each fetched once a revision, the last one kept until a newer is here.

import { Refused, queryText, type Query } from "./source";
import type { Api, LodgeState, PartName } from "./api";
import type { Sheaf } from "./sheaf";

const kPartOf: { [view: string]: PartName } = {
  shape: "shape", blocks: "blocks", proof: "proof",
  ground: "whole", stages: "whole", centring: "whole", layers: "whole", survey: "whole",
};
export function partOf(view: string): PartName {
  return kPartOf[view] ?? "whole";
}

export interface View {
  sheaf: Sheaf | null;
  /** Why there is none; empty while it is on its way or here. */
  missing: string;
}
interface Kept extends View {
  name: string;
  query: Query | undefined;
  /** Of which making of the part it is. */
  stamp: string;
  waiting: AbortController | null;
}

export class Views {
  private readonly kept = new Map<string, Kept>();
  private readonly told = new Set<(name: string) => void>();
  private state: LodgeState | null = null;
  constructor(private readonly api: Api) {}

  /** Told the view's name when it came or went. */
  subscribe(call: (name: string) => void): () => void {
    this.told.add(call);
    return () => this.told.delete(call);
  }
  /** What is there now, without asking for it; null: nobody wanted it yet. */
  peek(name: string, query?: Query): View | null {
    return this.kept.get(name + queryText(query)) ?? null;
  }
  /** What is there now; asks for it if it is not, or is older than its part. */
  want(name: string, query?: Query): View {
    const id = name + queryText(query);
    let kept = this.kept.get(id);
    if (kept === undefined) {
      kept = { name, query, sheaf: null, missing: "", stamp: "", waiting: null };
      this.kept.set(id, kept);
    }
    this.refresh(kept);
    return kept;
  }
  /** Views that are of an older making are fetched again, those that are shown now first. */
  follow(state: LodgeState): void {
    this.state = state;
    for (const kept of this.kept.values()) this.refresh(kept);
  }
  /** After the server was gone: nothing that was refused is believed any longer. */
  forgetRefusals(): void {
    for (const kept of this.kept.values()) if (kept.sheaf === null) kept.stamp = "";
  }

  private stampOf(name: string): string {
    const { state } = this;
    if (state === null) return "";
    const own = state.parts[partOf(name)];
    // The whole also brings blocks and proofs; a part shows the newer of the two.
    // Another server begins to count anew.
    // What was a draft is made again of the same revision when it is whole.
    return `${state.since ?? 0}/${own.of ?? "-"}/${own.draft ?? ""}/${state.parts.whole.of ?? "-"}`;
  }
  private refresh(kept: Kept): void {
    const stamp = this.stampOf(kept.name);
    if (stamp === "" || kept.stamp === stamp) return;
    kept.stamp = stamp;
    kept.waiting?.abort();
    const waiting = new AbortController();
    kept.waiting = waiting;
    this.api.view(kept.name, kept.query, waiting.signal).then(
      (sheaf) => this.done(kept, waiting, sheaf, ""),
      (error: unknown) => {
        if (waiting.signal.aborted) return;
        if (error instanceof Refused && error.status === 0) kept.stamp = "";
        this.done(kept, waiting, null, error instanceof Error ? error.message : String(error));
      },
    );
  }
  private done(kept: Kept, waiting: AbortController, sheaf: Sheaf | null, missing: string): void {
    if (kept.waiting !== waiting) return;
    kept.waiting = null;
    if (sheaf !== null) kept.sheaf = sheaf;
    kept.missing = kept.sheaf === null ? missing : "";
    for (const call of [...this.told]) call(kept.name);
  }
}
