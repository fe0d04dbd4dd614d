// One block: what it is, where it goes, what must be there first, what may be written of it.

import type { App } from "./app";
import { el, refill } from "./dom";
import { addressOf, blockLink, entryParts } from "./home";
import { shortTime } from "./moment";
import { dots, drawing, roleOf, sideWith } from "./picture";
import { Recorder } from "./record";
import type { BlockPage, CopyPage, Daybook, Neighbour, Step } from "./types";
import { lifting, ordinal, whereItGoes } from "./words";

/** The note's field and the buttons stay while the rest is drawn anew: no word typed is lost. */
export class BlockView {
  private name = "";
  private readonly top = el("div");
  private readonly rest = el("div");
  private recorder: Recorder | null = null;

  constructor(private readonly place: Element, private readonly app: App) {}

  show(name: string): void {
    if (name === this.name && this.recorder !== null) return;
    this.name = name;
    this.recorder = new Recorder(this.app, name);
    this.place.replaceChildren(this.top, this.recorder.element, this.rest);
    this.draw();
  }
  /** Down to the buttons, for a thumb that reads later. */
  toDeeds(): void {
    this.recorder?.element.scrollIntoView();
    this.recorder?.element.querySelector("button")?.focus({ preventScroll: true });
  }
  draw(): void {
    if (this.recorder === null) return;
    const { book, page, pageTrouble } = this.app.site;
    const mine = page !== null && page.name === this.name ? page : null;
    this.recorder.draw(mine, pageTrouble === "");
    if (pageTrouble !== "") {
      refill(this.top, el("h2", {}, this.name), el("p", { role: "alert" }, pageTrouble));
      refill(this.rest);
    } else if (mine !== null && book !== null) {
      refill(this.top, ...(mine.work ? workTop(mine.name, mine.standing) : this.copyTop(mine, book)));
      refill(this.rest, ...restOf(mine, book));
    } else {
      refill(this.top, ...this.remembered(book));
      refill(this.rest);
    }
  }

  private copyTop(page: CopyPage, book: Daybook): (Node | null)[] {
    const since = page.since === null ? "" : ` since ${shortTime(page.since, book.now)}`;
    const warn = (page.held_by ?? "slings") !== "slings" ? "warning" : "";
    return [
      el("h2", { class: "name" }, page.name),
      el("p", { class: "standing" }, el("strong", {}, page.standing), since, page.checked ? ", checked" : ""),
      el("p", {}, `${ordinal(page.order)} of ${page.of} to be placed. ${page.mass_kg.toFixed(0)} kg, ${page.made}.`),
      el("p", {}, whereItGoes(page)),
      ...this.pictures(page, book),
      mustBeThere(page),
      el("p", {}, `Which way up: ${page.up}.`),
      ...lifting(page).map((line, i) => el("p", { class: i === 0 ? warn : "" }, line)),
      otherCopies(page),
    ];
  }

  private pictures(page: CopyPage, book: Daybook): Node[] {
    const answer = this.app.site.picture;
    const picture = answer?.picture ?? dots(book.blocks);
    const blocks = new Map(book.blocks.map((b) => [b.id, b]));
    const beside = [...page.on, ...page.then].map((n) => n.id);
    const side = sideWith(picture, page.block);
    const role = (b: Parameters<typeof roleOf>[0]): ReturnType<typeof roleOf> => roleOf(b, page.block, beside, blocks);
    const drawn: Node[] = [];
    if (side !== null) drawn.push(el("figure", { class: "side" }, drawing(side.blocks, role, `${page.name} seen from the side`), el("figcaption", {}, side.title === "" ? "From the side" : `From the side: ${side.title}`)));
    if (picture.plan.length > 0) drawn.push(el("figure", {}, drawing(picture.plan, role, `${page.name} seen from above`), el("figcaption", {}, "From above")));
    const key = el("p", { class: "key quiet" }, el("i", { class: "this" }), "this block ", el("i", { class: "beside" }), "beside it ", el("i", { class: "placed" }), "in place ", el("i", { class: "other" }), "to come");
    const note = answer?.picture == null ? "The outlines are not known yet; each block is a square." : answer.of_the_plan === false ? "Drawn from the brief as it is now. The blocks of the daybook are others." : "";
    return [...drawn, key, ...(note === "" ? [] : [el("p", { class: "warning" }, note)])];
  }

  /** While the server is gone: what the list last said of it. */
  private remembered(book: Daybook | null): Node[] {
    const block = book?.blocks.find((b) => b.id === this.name.split("/")[0]);
    const nodes: Node[] = [el("h2", { class: "name" }, this.name)];
    if (this.app.site.here !== false || book === null) return [...nodes, el("p", {}, "One moment.")];
    nodes.push(el("p", {}, `The server is gone. What is written here is kept and sent later.`));
    if (block === undefined) return nodes;
    const standing = block.copies.find((c) => c.name === this.name)?.standing ?? "not made";
    return [
      ...nodes,
      el("p", { class: "standing" }, el("strong", {}, standing), ` at ${shortTime(book.now, "")}`),
      el("p", {}, `${ordinal(block.order)} of ${book.blocks.length} to be placed. ${block.mass_kg.toFixed(0)} kg, ${block.made}. Which way up: ${block.up}.`),
      el("p", {}, block.needs.length === 0 ? "No block must be there first." : `These must be there first: ${block.needs.join(", ")}.`),
    ];
  }
}

function workTop(name: string, standing: string): Node[] {
  return [el("h2", { class: "name" }, name), el("p", { class: "standing" }, el("strong", {}, standing)), el("p", {}, "Work that is of no block.")];
}

function mustBeThere(page: CopyPage): Node {
  if (page.needs.length === 0) return el("p", {}, "No block must be there first.");
  const row = (n: Neighbour): HTMLElement => blockLink(n.id, `${n.in_place ? "✓" : "✗"} ${n.id}`, n.in_place ? "in place" : `missing: ${n.standing ?? ""}`);
  return el("div", {}, el("h3", {}, "Must be there first"), el("ul", { class: "big-list" }, ...page.needs.map(row)));
}

function otherCopies(page: CopyPage): Node | null {
  const others = page.copies.filter((c) => c.name !== page.name);
  if (others.length === 0 && page.standing !== "broken") return null;
  const rows = others.map((c) => blockLink(c.name, c.name, c.standing));
  const more = page.standing === "broken" ? [blockLink(page.next_copy, page.next_copy, "another copy, not made yet")] : [];
  return el("div", {}, el("h3", {}, "Other copies"), el("ul", { class: "big-list" }, ...rows, ...more));
}

function restOf(page: BlockPage, book: Daybook): (Node | null)[] {
  const step = (s: Step): HTMLElement => {
    const after = s.after.map((a) => (a.work ? `${a.id} (${a.done ? "done" : "not done"})` : a.id)).join(", ");
    return el("li", {}, el("strong", {}, s.id), s.likely_end === null ? "" : `: ends ${s.likely_end} if each takes its likely time`, after === "" ? "" : `; after ${after}`);
  };
  const entries = [...page.events].reverse().map((e) => el("li", { class: "entry" }, ...entryParts(e, book.now)));
  const link = page.work ? null : el("p", { class: "quiet" }, `Label: ${page.label}`);
  return [
    el("h3", {}, "Written of it"),
    entries.length === 0 ? el("p", {}, "Nothing yet.") : el("ul", { class: "entries" }, ...entries),
    page.steps.length === 0 ? null : el("details", {}, el("summary", {}, "In the programme"), el("ul", { class: "steps" }, ...page.steps.map(step))),
    link,
    page.work ? null : el("p", {}, el("a", { class: "plain", href: addressOf(page.next_copy) }, `A further copy would be ${page.next_copy}`)),
  ];
}
