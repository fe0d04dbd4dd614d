// The first page: who holds the phone, what can be placed, what holds the work up, what was written.

import type { App } from "./app";
import { el, refill } from "./dom";
import { shortTime } from "./moment";
import type { Daybook, DayEvent } from "./types";
import { counts, eventWords, holdsUp, placedOver } from "./words";

export function blockLink(name: string, says: string, about: string): HTMLElement {
  return el("li", {}, el("a", { class: "big", href: addressOf(name), "data-key": `go ${name}` }, el("strong", {}, says), about === "" ? null : el("span", {}, about)));
}
export function addressOf(name: string): string {
  return "#/" + encodeURIComponent(name);
}

export function drawLists(place: Element, app: App): void {
  const book = app.site.book;
  if (book === null) {
    const says = app.site.here === false ? "The server does not answer, and this phone has not seen the daybook yet." : app.site.trouble || "One moment.";
    refill(place, el("p", {}, says));
    return;
  }
  refill(place, ...warnings(book), canBePlaced(book), holding(book), allBlocks(book), lastEntries(book));
}

function section(title: string, ...children: (Node | null)[]): HTMLElement {
  return el("section", {}, el("h2", {}, title), ...children);
}

function canBePlaced(book: Daybook): HTMLElement {
  const order = new Map(book.blocks.map((b) => [b.id, b]));
  const rows = book.can_be_placed.map((name) => {
    const block = order.get(name.split("/")[0] ?? name);
    return blockLink(name, name, block === undefined ? "" : `${block.order} of ${book.blocks.length}, ${block.mass_kg.toFixed(0)} kg`);
  });
  const all = book.placed === book.blocks.length;
  const none = el("p", {}, all ? "All are in place." : "Nothing on site can be placed now.");
  const first = book.centring === undefined || book.centring === "" ? null : el("p", { class: "warning" }, book.centring);
  const works = book.works_before ?? [];
  const before = works.length === 0 ? null : el("p", { class: "warning" }, `Before anything is placed, and not recorded as done: ${works.join(", ")}.`);
  return section("Can be placed now", first, before, rows.length > 0 ? el("ul", { class: "big-list" }, ...rows) : none, el("p", { class: "quiet" }, counts(book)));
}

function warnings(book: Daybook): HTMLElement[] {
  const alarm = book.alarm ?? "";
  const over = book.placed_over ?? [];
  const list: HTMLElement[] = [];
  if (alarm !== "") list.push(section("Keep off", el("p", { class: "warning", role: "alert" }, alarm)));
  if (over.length > 0) list.push(section("Placed over what is missing", ...over.map((o) => el("p", { class: "warning" }, placedOver(o)))));
  return list;
}

function holding(book: Daybook): HTMLElement {
  const next = book.next === null || book.next === book.missing?.name ? null : el("p", {}, `Next in order: ${book.next}.`);
  const stuck = book.not_yet.length === 0 ? null : el("p", {}, `On site, but something it needs is missing: ${book.not_yet.join(", ")}.`);
  const under = (book.under_placed ?? []).map((says) => el("p", {}, says));
  const missing = book.missing;
  const link = missing === null ? null : el("ul", { class: "big-list" }, blockLink(missing.name, missing.name, missing.standing));
  return section("Holds the work up", el("p", {}, holdsUp(missing)), link, next, stuck, ...under);
}

function allBlocks(book: Daybook): HTMLElement {
  const rows = book.blocks.map((b) => blockLink(b.name, b.name, b.standing));
  const works = book.works.map((w) => blockLink(w.id, w.id, w.done ? "done" : "not done"));
  return el(
    "section", {},
    el("details", {}, el("summary", {}, `All ${book.blocks.length} blocks`), el("ul", { class: "big-list" }, ...rows)),
    works.length === 0 ? null : el("details", {}, el("summary", {}, "Other work"), el("ul", { class: "big-list" }, ...works)),
  );
}

function lastEntries(book: Daybook): HTMLElement {
  const rows = [...book.events].reverse().map((e) => el("li", {}, el("a", { class: "entry", href: addressOf(e.name) }, ...entryParts(e, book.now))));
  return section("Last entries", rows.length > 0 ? el("ul", { class: "entries" }, ...rows) : el("p", {}, "Nothing is written yet."));
}

export function entryParts(e: DayEvent, today: string): Node[] {
  const by = `${shortTime(e.when, today)}${e.who === null ? "" : `, ${e.who}`}`;
  const parts: Node[] = [el("span", { class: e.taken_back ? "gone" : "" }, eventWords(e)), el("span", { class: "quiet" }, `no. ${e.number}, ${by}`)];
  if (e.note !== null) parts.push(el("span", { class: "note", dir: "auto" }, e.note));
  if (e.photo !== null) parts.push(el("span", { class: "quiet" }, "with a photo, in the daybook's folder"));
  return parts;
}
