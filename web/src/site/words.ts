// What the daybook found, in plain sentences.

import { lasting } from "./moment";
import type { CopyPage, Daybook, DayEvent, Missing, NextEvent } from "./types";

export function listed(words: string[]): string {
  if (words.length < 2) return words.join("");
  return words.slice(0, -1).join(", ") + " and " + words[words.length - 1];
}

export function counts(book: Daybook): string {
  const broken = book.broken > 0 ? `, ${book.broken} broken without another` : "";
  return `${book.placed} of ${book.blocks.length} placed, ${book.on_site} more on site${broken}.`;
}

export function placedOver(over: { block: string; missing: string[] }): string {
  return `${over.block} is written down as placed, but what must be there before it is not: ${over.missing.join(", ")}. Look, then correct what is written or what is built.`;
}

export function holdsUp(missing: Missing | null): string {
  if (missing === null) return "All that is left is on site.";
  const made = missing.standing === "not made" || missing.standing === "broken";
  const when =
    missing.ready_s <= 0
      ? "It should be here by now."
      : `It could be here in ${lasting(missing.ready_s)} by the likely times${made ? ", if it is made next" : ""}.`;
  const held =
    missing.held_back === 0
      ? "No other block waits for it."
      : `${missing.held_back} more cannot be placed before it, ${missing.held_on_site === 0 ? "none" : missing.held_on_site} of them on site.`;
  return `${missing.name} is the first that is missing: ${missing.standing}. ${when} ${held}`;
}

const kDeeds: Record<string, string> = {
  printed: "Printed", cured: "Cured", checked: "Checked", packed: "Packed", shipped: "Sent off", received: "Received on site",
  placed: "Placed", "taken-down": "Taken down", broken: "Broken", reprinted: "Made again", note: "Only the note", done: "Done",
};
/** Of the button that records it. */
export function deed(event: string): string {
  return kDeeds[event] ?? event;
}

/** A refusal without what it advises, where that would change nothing. */
export function withoutAdvice(refused: string): string {
  return refused.replace(/[;,]\s*(?:mend|say|record what came before)\b[^;.]*even.so[^;.]*/i, "");
}

export function eventWords(e: DayEvent): string {
  const what = e.cancels === null ? (e.event === "note" ? "note" : deed(e.event).toLowerCase()) : `takes back no. ${e.cancels}`;
  return `${e.name}: ${what}${e.taken_back ? " (taken back)" : ""}`;
}

const kForward = ["done", "placed", "received", "shipped", "packed", "cured", "printed", "reprinted", "checked"];

/** `usual`: allowed, and moves the work on, the farthest first; `more`: all else that can be said. */
export function sorted(next: NextEvent[]): { usual: NextEvent[]; more: NextEvent[] } {
  const usual = next.filter((n) => n.allowed && kForward.includes(n.event));
  usual.sort((a, b) => kForward.indexOf(a.event) - kForward.indexOf(b.event));
  const more = next.filter((n) => n.event !== "note" && !usual.includes(n) && (n.allowed || n.even_so));
  return { usual, more };
}

/** Must be said twice: it is hard to mend, or tells of harm. */
export function asksTwice(event: string): boolean {
  return event === "broken" || event === "taken-down";
}

export function ordinal(n: number): string {
  const teen = n % 100 >= 11 && n % 100 <= 13;
  return n + (teen ? "th" : (["th", "st", "nd", "rd"][n % 10] ?? "th"));
}

export function whereItGoes(page: CopyPage): string {
  const on = page.on.map((n) => n.id);
  const then = page.then.map((n) => n.id);
  const rests = on.length === 0 ? "It lies on the centring only." : `It goes on ${listed(on)}.`;
  const next = then.length === 0 ? "Nothing is placed against it later." : `Then ${listed(then)} against it.`;
  return `${rests} ${next}`;
}

/** Lines a person lifting it must read, worst first. */
export function lifting(page: CopyPage): string[] {
  const lines: string[] = [];
  const strap = page.strap_n ?? 0;
  if (strap > 0) lines.push(`A strap over each sling, ${(strap / 1000).toFixed(1)} kN by hand: slings alone do not hold it.`);
  else if (page.held_by === "cradle") lines.push("A cradle: slings do not hold it, nor do straps over them.");
  if (page.wind_m_s !== null) lines.push(`It may hang in gusts up to ${page.wind_m_s.toFixed(1)} m/s.`);
  if (page.slings_m.length === 0) lines.push("There is no lifting plan for it.");
  else lines.push(`${page.slings_m.length} sling points: see its label and the lifting sheet.`);
  return lines;
}
