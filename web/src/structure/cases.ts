// Which load case is shown: the one chosen, or the one that governs.

import { casesOf, numberOf, tablesOf, textOf } from "../heads";
import type { Kind } from "../life/moments";
import type { Sheaf } from "../sheaf";
import type { Views } from "../views";

export interface CaseSaid {
  id: string;
  words: string;
  verdict: string;
  load_factor: number | null;
  /** It is at least that. */
  at_cap: boolean;
}
export function verdictsOf(proof: Sheaf): CaseSaid[] {
  return tablesOf(proof.head["verdicts"]).map((each) => ({
    id: textOf(each["id"]),
    words: textOf(each["words"]),
    verdict: textOf(each["verdict"]),
    load_factor: typeof each["load_factor"] === "number" ? numberOf(each["load_factor"]) : null,
    at_cap: each["at_cap"] === true,
  }));
}
/** Worst first: what falls, what is undecided, then the least load factor. */
export function worstCase(said: readonly CaseSaid[]): CaseSaid | undefined {
  const rank = (one: CaseSaid): number => (one.verdict === "falls" ? 0 : one.verdict === "undecided" ? 1 : 2);
  return [...said].sort((a, b) => rank(a) - rank(b) || (a.load_factor ?? Infinity) - (b.load_factor ?? Infinity))[0];
}
/** The first case is the bridge's own weight; others belong to the moment it is walked on. */
export function caseFor(kind: Kind, chosen: string, views: Views): string {
  const blocks = views.want("blocks").sheaf;
  const first = blocks === null ? "" : (casesOf(blocks)[0]?.id ?? "");
  if (kind !== "walked") return first;
  if (chosen !== "") return chosen;
  const proof = views.want("proof", { case: first }).sheaf;
  return proof === null ? first : (worstCase(verdictsOf(proof))?.id ?? first);
}
