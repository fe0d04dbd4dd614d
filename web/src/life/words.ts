// What is said under the arch about the moment that is shown.

import { kilonewtons, millimetres } from "../figures";
import type { StageHead } from "../heads";
import type { Desk } from "../slips";
import { failedText } from "../source";
import { isDraft, wordsOf } from "../state";
import type { LodgeState } from "../api";
import { whyMissing } from "../shows";
import type { Moment, Stone } from "./moments";

const kSays: { [kind: string]: string } = {
  drawn: "Drawn: the plan, its supports and its free edges.",
  shaped: "Shaped: the surface that carries its weight by pressing alone.",
  cut: "Cut: the blocks and their joints.",
  printed: "Printed: how one block is laid down, layer by layer.",
  footings: "Footings: what the ground and the ties below it hold.",
  stage: "Placed: block by block on the centring.",
  closed: "Closed: the last block is in.",
  struck: "Struck: the centring is away, the bridge carries its own weight.",
  walked: "Walked on: people and what else is to be carried.",
  "as built": "As built: what was found on site.",
  "taken down": "Taken down: the way back, for blocks to be used again.",
};

export function stageSentence(stage: StageHead, count: number): string {
  const what = stage.what === "" ? "" : `${stage.what} `;
  const figures: string[] = [];
  if (Math.abs(stage.crown_drop_m) >= 5e-5) figures.push(`the crown is ${millimetres(stage.crown_drop_m)} lower`);
  if (stage.opening_m >= 5e-5) figures.push(`joints open by ${millimetres(stage.opening_m)}`);
  if (stage.tie_n > 0) figures.push(`the ties pull up to ${kilonewtons(stage.tie_n)}`);
  const rest = figures.length === 0 ? "" : " " + figures.join(", ").replace(/^./, (c) => c.toUpperCase()) + ".";
  const people = stage.people ? "with people on it too" : "nobody on it";
  return `Stage ${stage.step} of ${count}, ${what}${stage.words}: ${stage.verdict}, ${people}.${loweredWords(stage.lowered_m)}${rest}`;
}
/** Steps are tenths of a millimetre: two places below 1 mm. */
function loweredWords(lowered_m: number): string {
  const mm = Math.abs(lowered_m) * 1000;
  if (mm < 0.005) return "";
  return ` The centring is ${lowered_m > 0 ? "lowered" : "raised"} by ${mm < 1 ? `${mm.toFixed(2)}\u202fmm` : millimetres(mm / 1000)} there.`;
}

/** Empty where what is shown is of the newest revision. */
export function staleSentence(stone: Stone, state: LodgeState | null): string {
  if (state === null || stone.part === null) return "";
  const known = state.parts[stone.part];
  const why = failedText(known.failed);
  if (why !== "") return known.of === null ? `Not there: ${why}` : `Shown is revision ${known.of}; the newest did not come out: ${why}`;
  if (known.of === null) return state.busy !== null && stone.part !== "whole" ? "Not worked out yet: it is being done." : "Not worked out yet.";
  if (isDraft(known, state.revision)) return `Not whole yet: ${known.draft}.`;
  return known.fresh ? "" : `Stale: made of revision ${known.of}, the brief is at ${state.revision}.`;
}

const kViewOf: { [kind: string]: string } = {
  printed: "layers", footings: "ground", stage: "stages", closed: "stages", "taken down": "stages", "as built": "survey",
};
/** Why what this moment shows is not there, though it was worked out. */
export function missingSentence(stone: Stone, desk: Desk): string {
  const view = kViewOf[stone.kind];
  if (view === undefined) return "";
  const { block } = desk.store.get().chosen;
  if (view === "layers" && block !== null) desk.views.want("layers"); // whether any block has them
  return whyMissing(view, desk.views.want(view, view === "layers" && block !== null ? { block } : {}).missing, desk.store.get().state, desk.views);
}

export function sayMoment(
  place: HTMLElement, desk: Desk, stone: Stone, moment: Moment, stages: StageHead[] | null, go: (by: 1 | -1) => void,
): void {
  const now = desk.store.get();
  const stage = moment.stage === null ? undefined : stages?.[moment.stage];
  const text = document.createElement("p");
  text.className = "moment";
  text.setAttribute("role", "status");
  const hint = stone.kind === "shaped" && desk.api.source.live && now.state?.parts.shape.of != null ? " Press it to see the forces of a node." : "";
  text.textContent = stage !== undefined ? stageSentence(stage, stages?.length ?? 0) : (kSays[stone.kind] ?? stone.name) + hint;
  const row: HTMLElement[] = [turner("‹", "One step back", () => go(-1)), text, turner("›", "One step on", () => go(1))];
  const stale = staleSentence(stone, now.state) || missingSentence(stone, desk);
  if (stale !== "") {
    const told = document.createElement("span");
    told.className = "stale-words";
    told.textContent = " " + stale;
    text.append(told);
  }
  const known = stone.part === null ? null : now.state?.parts[stone.part];
  if (desk.api.source.live && stone.part === "whole" && known != null && !known.fresh && now.state?.busy == null) {
    const work = document.createElement("button");
    work.type = "button";
    work.className = "work";
    work.textContent = "work out the whole";
    work.addEventListener("click", () => void runWhole(desk));
    row.splice(2, 0, work);
  }
  const held = place.contains(document.activeElement) ? document.activeElement?.getAttribute("aria-label") : null;
  place.replaceChildren(...row);
  if (held != null) place.querySelector<HTMLElement>(`[aria-label="${held}"]`)?.focus();
}
export function runWhole(desk: Desk): Promise<void> {
  return desk.api.run("whole").then(
    () => desk.store.set({ trouble: "" }),
    (error: unknown) => desk.store.set({ trouble: wordsOf(error) }),
  );
}
function turner(sign: string, label: string, call: () => void): HTMLButtonElement {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "turner";
  button.textContent = sign;
  button.setAttribute("aria-label", label);
  button.addEventListener("click", call);
  return button;
}
