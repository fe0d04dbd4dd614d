// What came back for a question: the verdict with its sign, what governs, the words; and its section.

import { faultText, Refused } from "../source";
import { isTable, type Sheaf } from "../sheaf";
import { el } from "./dom";
import { headNumber, headText, headWords } from "./joints";
import { figures, megapascals, signOf, signOfVerdict } from "./say";

/** The sign, the verdict's word and what it rests on. */
export function verdictLine(answer: Sheaf, quick: boolean): { sign: "falls" | "near" | "holds"; says: string } {
  const verdict = headText(answer, "verdict") || "undecided";
  const factor = headNumber(answer, "load_factor");
  const most = answer.head["at_cap"] === true ? "at least " : "";
  const parts = [verdict];
  if (factor !== null) parts.push(`live load may grow to ${most}${figures(factor)} times`);
  if (quick) parts.push("a quick answer, by the pads alone");
  return { sign: signOfVerdict(verdict), says: parts.join("; ") };
}

/** What governs an answer: its joint by number among the blocks asked about, -1 where it is none. */
export function governing(answer: Sheaf): { joint: number; says: string } {
  const told = answer.head["governing"];
  if (!isTable(told)) return { joint: -1, says: "" };
  const joint = told["joint"], says = told["says"];
  return { joint: typeof joint === "number" && Number.isInteger(joint) ? joint : -1, says: typeof says === "string" ? says : "" };
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
