// What came back for a question: the verdict with its sign, what governs, the words; and its section.

import { faultText, Refused } from "../source";
import { isTable, type Sheaf } from "../sheaf";
import { el } from "./dom";
import { headNumber, headText, headWords } from "./joints";
import { figures, megapascals, signOf, signOfShare, signOfVerdict, type Sign } from "./say";

/** The worse of the verdict and of what is asked of the limit that governs: one sign, one colour, the words with it. */
export function judged(answer: Sheaf): { sign: Sign; says: string } {
  const verdict = headText(answer, "verdict") || "undecided";
  const { share } = governing(answer);
  const own = signOfVerdict(verdict), used = share === null ? "holds" : signOfShare(share);
  if (used === "holds" || own === "falls") return { sign: own, says: verdict };
  const joins = verdict === "stands" ? "but" : "and";
  return used === "falls" ? { sign: "falls", says: `${verdict}, ${joins} over a limit` } : { sign: "near", says: `${verdict}, ${joins} near a limit` };
}

/** The sign, the verdict's word and what it rests on. */
export function verdictLine(answer: Sheaf, quick: boolean): { sign: Sign; says: string } {
  const { sign, says } = judged(answer);
  const factor = headNumber(answer, "load_factor");
  const most = answer.head["at_cap"] === true ? "at least " : "";
  const parts = [says];
  if (factor !== null) parts.push(`live load may grow to ${most}${figures(factor)} times`);
  if (quick) parts.push("a quick answer, by the pads alone");
  return { sign, says: parts.join("; ") };
}

/** What governs an answer: its joint by number among the blocks asked about, -1 where it is none. */
export function governing(answer: Sheaf): { joint: number; says: string; share: number | null } {
  const told = answer.head["governing"];
  if (!isTable(told)) return { joint: -1, says: "", share: null };
  const { joint, says, share } = told;
  return { joint: typeof joint === "number" && Number.isInteger(joint) ? joint : -1, says: typeof says === "string" ? says : "", share: typeof share === "number" && Number.isFinite(share) ? share : null };
}

export function answerParts(answer: Sheaf, quick: boolean, asked: readonly string[]): HTMLElement[] {
  const { sign, says } = verdictLine(answer, quick);
  const parts: HTMLElement[] = [
    el("p", { class: `slip-verdict is-${sign}` }, el("span", { class: "slip-sign", "aria-hidden": "true", text: signOf[sign] }), says),
  ];
  const words = headWords(answer, "words");
  const reason = headText(answer, "reason");
  const { says: governs } = governing(answer);
  const list = words.length > 0 ? words : reason === "" ? [] : [reason];
  if (governs !== "" && !list.some((w) => w.includes(governs))) list.push(governs);
  if (list.length > 0) parts.push(el("ul", { class: "slip-words" }, ...list.map((w) => el("li", { text: w }))));
  const peak = headNumber(answer, "peak_pa");
  const at = headText(answer, "peak_joint");
  if (peak !== null) parts.push(el("p", { class: "slip-quiet", text: `Greatest pressure ${megapascals(peak)}${at === "" ? "" : `, in the joint ${at.replace("|", " to ")}`}.` }));
  parts.push(el("details", { class: "slip-asked" }, el("summary", { text: "What was asked" }), el("ul", {}, ...asked.map((w) => el("li", { text: w })))));
  const took = headNumber(answer, "took_s");
  if (took !== null) parts.push(el("p", { class: "slip-hint", text: `Answered in ${took < 1 ? `${(took * 1000).toFixed(0)} ms` : `${took.toFixed(1)} s`}.` }));
  return parts;
}

export function refusalParts(reason: unknown): HTMLElement[] {
  const says = reason instanceof Refused ? reason.faults.map(faultText) : [reason instanceof Error ? reason.message : String(reason)];
  return [el("ul", { class: "slip-words slip-wrong" }, ...says.map((s) => el("li", { text: s })))];
}
