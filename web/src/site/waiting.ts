// What lies on this phone and is not in the daybook: waiting, or refused.

import type { App } from "./app";
import { el, refill } from "./dom";
import { here, momentText, onThisClock, shortTime, zoneHere } from "./moment";
import type { Entry } from "./queue";
import { deed, withoutAdvice } from "./words";

export function drawWaiting(place: Element, app: App): void {
  const bridge = app.site.book?.bridge ?? "";
  const all = app.queue.list();
  if (all.length === 0) {
    refill(place);
    return;
  }
  const waits = all.filter((e) => e.refused === "").length;
  const keeps = app.queue.keeps ? "" : " This browser keeps nothing: do not close the page.";
  const why = waits > 0 && app.queue.stuck !== "" ? " " + app.queue.stuck : "";
  const title = waits > 0 ? `${waits} not sent yet.${why}${keeps}` : `Not taken in.${keeps}`;
  refill(place, el("section", { class: "waiting" }, el("h2", {}, title), el("ul", {}, ...all.map((e) => row(app, e, bridge)))));
}

function row(app: App, e: Entry, bridge: string): HTMLElement {
  const today = app.site.book?.now ?? "";
  const what = `${e.block}: ${deed(e.what).toLowerCase()}`;
  const head = el("p", {}, el("strong", {}, what), ` ${shortTime(here(e.at), here(today))}, ${e.who}`);
  const note = e.note === "" ? null : el("p", { class: "note", dir: "auto" }, e.note);
  const insist = mayInsist(app, e);
  const refused = onThisClock(insist ? e.refused : withoutAdvice(e.refused), today);
  const says = e.refused !== "" ? refused : e.bridge !== bridge && bridge !== "" ? `It is of ${e.bridge}; this server is of ${bridge}. It waits.` : "";
  const sent = e.refused === "" && e.tried > 0 ? "It may have arrived; sent again, it is written only once." : "";
  const buttons: HTMLElement[] = [];
  const late = insist && kOfItsTime.test(e.refused);
  if (e.refused !== "" && !e.even_so && insist) buttons.push(button("Write it even so", `even ${e.id}`, () => void app.evenSo(e.id)));
  if (e.refused !== "") buttons.push(button("Try again", `again ${e.id}`, () => void app.tryAgain(e.id)));
  buttons.push(button("Throw it away", `drop ${e.id}`, () => app.drop(e)));
  return el("li", { class: e.refused === "" ? "" : "refused" }, head, note, says === "" ? null : el("p", { role: "alert" }, says), sent === "" ? null : el("p", { class: "quiet" }, sent), el("div", { class: "buttons" }, ...buttons), late ? mend(app, e) : null);
}

const typed = new Map<string, string>(); // moments that are being mended: the page is drawn anew meanwhile
const kOfItsTime = /before it was|still to come/;
/** Its moment, to be written as it was, on this phone's clock. */
function mend(app: App, e: Entry): HTMLElement {
  const field = el("input", { type: "datetime-local", step: "1", id: `at-${e.id}`, "data-key": `at ${e.id}`, value: typed.get(e.id) ?? here(e.at).slice(0, 19) });
  field.addEventListener("input", () => {
    typed.set(e.id, field.value);
    field.setAttribute("value", field.value);
  });
  const press = (): void => {
    const time = new Date(field.value).getTime();
    if (Number.isFinite(time)) void app.mendTime(e.id, momentText(time, zoneHere(time)));
  };
  return el("details", {}, el("summary", {}, "Mend its time"), el("label", { for: field.id }, "It happened at"), field, button("Write it with this time", `mend ${e.id}`, press));
}

/** Only what the daybook would let through; where the block is not on the page, it is asked when tried. */
function mayInsist(app: App, e: Entry): boolean {
  const page = app.site.page;
  if (page === null || page.name !== e.block) return true;
  const next = page.next.find((n) => n.event === e.what);
  return next !== undefined && (next.allowed || next.even_so);
}

function button(says: string, key: string, press: () => void): HTMLElement {
  return el("button", { type: "button", "data-key": key, click: press }, says);
}
