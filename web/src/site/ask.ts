// Which block is in your hands: typed, picked from those that fit, or read off its label.

import type { App } from "./app";
import { el, refill } from "./dom";
import { blockLink } from "./home";
import { kLabelStart, labelTrouble, readLabel } from "./label";
import { cameraTrouble, scan, whyNoScan, type Scan } from "./scan";
import { meant, suggest } from "./suggest";

const at = <T extends HTMLElement>(id: string): T => document.getElementById(id) as T;

export class Ask {
  private readonly field = at<HTMLInputElement>("name");
  private scanning: Scan | null = null;
  private drawn = "";
  private readonly who = el("input", { id: "who", type: "text", maxlength: "80", autocomplete: "name" });

  constructor(private readonly app: App, private readonly go: (name: string) => void) {
    this.who.value = app.who();
    this.who.addEventListener("input", () => app.setWho(this.who.value));
    at("head").append(el("div", { class: "who" }, el("label", { for: "who" }, "I am"), this.who));
    this.field.addEventListener("input", () => this.typed());
    at("ask").addEventListener("submit", (event) => {
      event.preventDefault();
      this.enter();
    });
    at("scan").addEventListener("click", () => void this.start());
    at("scan-stop").addEventListener("click", () => this.leave());
  }

  /** The names may have changed; the list is drawn only then, so that nothing moves under a thumb. */
  draw(): void {
    const wanted = suggest(this.field.value, this.names(), 6);
    if (wanted.join("\n") === this.drawn) return;
    this.drawn = wanted.join("\n");
    const standing = new Map(this.app.site.book?.blocks.flatMap((b) => b.copies.map((c) => [c.name, c.standing])));
    refill(at("suggested"), ...wanted.map((name) => blockLink(name, name, standing.get(name) ?? "")));
  }
  leave(): void {
    this.scanning?.stop();
    this.scanning = null;
    at("camera").hidden = true;
    this.field.value = "";
    this.say("");
    this.draw();
  }

  private names(): string[] {
    const book = this.app.site.book;
    return book === null ? [] : [...book.blocks.flatMap((b) => b.copies.map((c) => c.name)), ...book.works.map((w) => w.id)];
  }
  private typed(): void {
    this.say("");
    if (this.field.value.startsWith(kLabelStart)) this.read(this.field.value);
    this.draw();
  }
  private enter(): void {
    const names = this.names();
    const typed = this.field.value.trim(), like = suggest(typed, names, 2);
    const name = meant(typed, names) ?? only(like);
    if (name !== null) this.go(name);
    else if (typed === "") this.say("Type the name of a block, or part of it.");
    else if (this.app.site.book === null) this.say("The names of the blocks are not here yet.");
    else this.say(like.length > 0 ? "More than one block is called so. Pick one below." : `There is no block called ${typed}.`);
  }
  private read(text: string): void {
    const label = readLabel(text);
    const book = this.app.site.book;
    if (label === null || book === null) {
      this.say("This code is not the label of a block.");
      return;
    }
    const trouble = labelTrouble(label, book.bridge, book.assembly);
    if (trouble.stop) this.say(trouble.says);
    else this.go(label.name);
    this.app.site.said = trouble.says === "" ? this.app.site.said : { says: trouble.says, number: null, wrong: true };
    this.app.changed();
  }
  private async start(): Promise<void> {
    const why = await whyNoScan();
    this.say(why);
    if (why !== "" || this.scanning !== null) return;
    at("camera").hidden = false;
    try {
      this.scanning = await scan(at<HTMLVideoElement>("video"), (text) => this.read(text));
    } catch (error) {
      at("camera").hidden = true;
      this.say(cameraTrouble(error));
    }
  }
  private say(text: string): void {
    at("ask-says").textContent = text;
  }
}

function only(names: string[]): string | null {
  return names.length === 1 ? (names[0] ?? null) : null;
}
