// The daybook on a phone: /site.

import { listen } from "../events";
import { findToken, serverSource } from "../source";
import { App } from "./app";
import { Ask } from "./ask";
import { BlockView } from "./block";
import { el, refill } from "./dom";
import { drawLists } from "./home";
import { onOtherTab } from "./keep";
import { shortTime } from "./moment";
import { drawWaiting } from "./waiting";

const at = <T extends HTMLElement>(id: string): T => document.getElementById(id) as T;

const token = findToken();
const app = new App(serverSource(token));
const view = new BlockView(at("block"), app);
const ask = new Ask(app, (name) => (location.hash = "#/" + encodeURIComponent(name)));

function asked(): string {
  const found = /^#\/(.+)$/.exec(location.hash)?.[1];
  try {
    return found === undefined ? "" : decodeURIComponent(found);
  } catch {
    return "";
  }
}

function go(): void {
  const name = asked();
  at("home").hidden = name !== "";
  at("block").hidden = name === "";
  at("ways").hidden = name === "";
  ask.leave();
  if (name !== "") view.show(name);
  void app.show(name);
  scrollTo(0, 0);
}

function drawHead(): void {
  const { book, here, trouble } = app.site;
  at("title").textContent = book?.title ?? "Daybook";
  document.title = book === null ? "Daybook" : `Daybook, ${book.title}`;
  const live = at("live");
  const seen = book === null ? "" : ` Shown as it was at ${shortTime(book.now, "")}.`;
  const says = here === null ? "Asking the server." : !here ? `The server is gone.${seen}` : trouble !== "" ? trouble : `Up to date, no. ${book?.number ?? 0}.`;
  if (live.textContent !== says) live.textContent = says;
  live.className = here === true && trouble === "" ? "here" : here === null ? "" : "gone";
}

function drawSaid(): void {
  const said = app.site.said;
  if (said === null) {
    refill(at("said"));
    return;
  }
  const number = said.number;
  refill(
    at("said"),
    el("p", { role: said.wrong ? "alert" : "status", class: said.wrong ? "wrong" : "" }, said.says),
    number === null ? null : el("button", { type: "button", "data-key": "back", click: () => void app.takeBack(number) }, said.wrong ? "Try again" : "Take it back"),
  );
}

function draw(): void {
  drawHead();
  drawSaid();
  drawWaiting(at("waiting"), app);
  drawLists(at("lists"), app);
  ask.draw();
  view.draw();
}

app.subscribe(draw);
addEventListener("hashchange", go);
at("back").addEventListener("click", () => (location.hash = "#/"));
at("write").addEventListener("click", () => view.toDeeds());
onOtherTab(() => app.changed());
addEventListener("online", () => void app.refresh());
document.addEventListener("visibilitychange", () => {
  if (!document.hidden) void app.refresh();
});
// What waits is tried again by itself even where no event comes through.
setInterval(() => {
  if (app.queue.list().some((e) => e.refused === "") || app.site.here === false) void app.refresh();
}, 20_000);

draw();
go();
void app.refresh();
listen("/api/events", token, {
  event(event) {
    if (event.name === "daybook") void app.refresh();
  },
  here(here) {
    if (here) void app.refresh();
    else {
      app.site.here = false;
      app.changed();
    }
  },
});
