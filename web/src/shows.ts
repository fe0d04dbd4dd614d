// Why a switch would change nothing in the picture at this moment.

import { casesOf } from "./heads";
import type { Kind } from "./life/moments";
import type { Sheaf } from "./sheaf";
import { failedText } from "./source";
import type { Lodge, Show } from "./state";
import { caseFor } from "./structure/cases";
import { forcesOf } from "./structure/thrust";
import { partOf, type Views } from "./views";

const kViewOf: { [show in Show]: string } = {
  plan: "shape", net: "shape", flow: "shape", phi: "shape", surface: "shape", thrust: "proof", pads: "proof", mechanism: "proof", moved: "proof",
  live: "blocks", walk: "blocks", ground: "", seats: "centring", layers: "layers", survey: "survey",
};
// A sheaf does not change: each is looked through once.
const kMoves = new WeakMap<Sheaf, boolean>();
const kPresses = new WeakMap<Sheaf, boolean>();

/** Empty: it does something, or that is not known yet. Never asks the server for anything but the blocks. */
export function whyNot(show: Show, kind: Kind, now: Lodge, views: Views): string {
  const view = kViewOf[show];
  if (view === "" || now.state === null) return ""; // the earth is always there
  const id = caseFor(kind, now.caseId, views);
  const kept = views.peek(view, view === "proof" ? { case: id } : undefined);
  if (kept?.sheaf == null) return whyAway(view, whyMissing(view, kept?.missing ?? "", now.state, views), now.state);
  if (view === "blocks") return whyNotOfBlocks(show, kept.sheaf, id, now);
  if (view === "proof") return whyNotOfProof(show, kept.sheaf, views.peek("blocks")?.sheaf ?? null, now);
  if (view === "shape" && show !== "surface" && show !== "plan" && kept.sheaf.rows(show === "net" ? "edges" : show) === 0) return "The form holds nothing of that kind.";
  return "";
}

const kNone: { [view: string]: string } = {
  layers: "This brief asks for no printing.", survey: "This brief has no survey.", centring: "There is no centring.", stages: "There is no order of work.", ground: "There is no ground to check.",
};
/** Why a view is not there, in words of what is the case; `missing` as the server has it. */
export function whyMissing(view: string, missing: string, state: Lodge["state"], views: Pick<Views, "peek">): string {
  if (state === null || !/^nothing to show/i.test(missing)) return missing;
  if (partOf(view) !== "whole") return missing;
  if (state.parts.whole.of === null) return "That comes with the whole run: work out the whole.";
  if (view === "layers" && views.peek("layers")?.sheaf != null) return "This block is not printed.";
  return kNone[view] ?? missing;
}

function whyAway(view: string, missing: string, state: NonNullable<Lodge["state"]>): string {
  const part = partOf(view);
  const known = state.parts[part];
  if (known.of !== null) return missing;
  if (known.failed !== "") return `It did not come out: ${failedText(known.failed)}`;
  return part === "whole" ? "That comes with the whole run: work out the whole." : state.busy === null ? "That is not worked out yet." : "That is on its way.";
}
function whyNotOfBlocks(show: Show, blocks: Sheaf, id: string, now: Lodge): string {
  if (show === "walk" && blocks.rows("walk_triangles") > 0) return "";
  if (show === "walk") return now.state?.parts.whole.of == null ? "That comes with the whole run." : "There is no walking surface.";
  if (now.tried) return "What is tried has its own marks.";
  const load = casesOf(blocks).find((each) => each.id === id);
  return load === undefined || load.live.every((each) => Math.hypot(...each.force) === 0) ? "This load is weight alone." : "";
}
function whyNotOfProof(show: Show, proof: Sheaf, blocks: Sheaf | null, now: Lodge): string {
  if (now.tried) return show === "thrust" ? "The thrust of what is tried is always drawn." : "";
  const joints = blocks?.head["joints"];
  if (!Array.isArray(joints)) return "The blocks are not there yet.";
  if (joints.length !== proof.rows("force")) return "This proof is of other blocks than those shown.";
  if (show === "thrust") return forcesOf(proof).some(Number.isFinite) ? "" : "No forces are known under this load.";
  if (show === "pads") return once(kPresses, proof, "pressure", Number.isFinite) ? "" : "No pressure is known under this load.";
  const falls = proof.has("mechanism");
  if (show === "mechanism") return falls ? "" : "No way to fall was found under this load.";
  if (falls && now.shows.has("mechanism")) return "How it would fall is shown instead.";
  return once(kMoves, proof, "move", (value) => value !== 0 && Number.isFinite(value)) ? "" : "No movement is known under this load.";
}
function once(kept: WeakMap<Sheaf, boolean>, proof: Sheaf, name: string, is: (value: number) => boolean): boolean {
  let found = kept.get(proof);
  if (found === undefined) kept.set(proof, (found = proof.f32(name).some(is)));
  return found;
}
