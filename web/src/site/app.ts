// What the page knows, and what it can do: no element is touched here.

import { Refused, type Source } from "../source";
import { kept, queueShelf, whoShelf } from "./keep";
import { clockAhead, momentText, zoneHere } from "./moment";
import { Queue, type Entry, type Outcome } from "./queue";
import type { BlockPage, Daybook, DayEvent, PictureAnswer, Written } from "./types";
import { deed } from "./words";

export interface Site {
  book: Daybook | null;
  /** Null: not heard of yet; false: it does not answer, what is shown is what it last said. */
  here: boolean | null;
  trouble: string;
  page: BlockPage | null;
  /** Why there is no page of the block asked for. */
  pageTrouble: string;
  picture: PictureAnswer | null;
  said: Said | null;
}
/** The line at the foot: what was just done, and what takes it back. */
export interface Said {
  says: string;
  number: number | null;
  wrong: boolean;
}

export class App {
  readonly site: Site = { book: kept.book(), here: null, trouble: "", page: null, pageTrouble: "", picture: kept.picture(), said: null };
  readonly queue: Queue;
  private readonly told = new Set<() => void>();
  private asked = "";

  constructor(private readonly source: Source) {
    this.queue = new Queue(queueShelf, (entry) => this.send(entry), () => this.changed(), () => crypto.getRandomValues(new Uint32Array(4)).join("-"));
  }
  subscribe(call: () => void): void {
    this.told.add(call);
  }
  changed(): void {
    for (const call of this.told) call();
  }

  who(): string {
    return (whoShelf.read() ?? "").trim();
  }
  setWho(name: string): void {
    whoShelf.write(name.trim());
    this.changed();
  }

  /** Everything that is shown, anew; and what waits is sent. */
  async refresh(): Promise<void> {
    try {
      const book = (await this.source.json("/api/daybook", undefined, soon())) as Daybook;
      this.site.book = book;
      this.site.here = true;
      this.site.trouble = "";
      kept.keepBook(book);
      kept.keepClock(clockAhead(book.now, Date.now()));
    } catch (error) {
      this.failed(error);
      this.changed();
      return;
    }
    this.changed();
    await this.queue.flush(this.site.book.bridge);
    await Promise.all([this.loadPage(), this.loadPicture()]);
  }
  private failed(error: unknown): void {
    const refused = error instanceof Refused && error.status !== 0;
    this.site.here = refused;
    this.site.trouble = refused ? words(error) : "";
  }

  /** "": no block is asked for. */
  async show(name: string): Promise<void> {
    this.asked = name;
    if (this.site.page?.name !== name) this.site.page = null;
    this.site.pageTrouble = "";
    this.changed();
    await this.loadPage();
  }
  private async loadPage(): Promise<void> {
    const name = this.asked;
    if (name === "") return;
    try {
      const path = name.split("/").map(encodeURIComponent).join("/");
      const page = (await this.source.json(`/api/daybook/${path}`, undefined, soon())) as BlockPage;
      if (this.asked !== name) return;
      this.site.page = page;
      this.site.pageTrouble = "";
    } catch (error) {
      if (this.asked !== name) return;
      if (error instanceof Refused && error.status !== 0) {
        this.site.page = null;
        this.site.pageTrouble = words(error);
      } else {
        this.site.here = false;
      }
    }
    this.changed();
  }
  private async loadPicture(): Promise<void> {
    const book = this.site.book;
    const have = this.site.picture;
    if (book === null || (have?.assembly === book.assembly && have.picture !== null && have.of_the_plan === true)) return;
    try {
      const got = (await this.source.json("/api/daybook?picture=1", undefined, soon(60_000))) as PictureAnswer;
      this.site.picture = got;
      if (got.picture !== null) kept.keepPicture(got);
      this.changed();
    } catch {
      // the page says without it what there is to say
    }
  }

  /** Kept on the phone first, then sent: what cannot be sent now goes later. */
  async record(block: string, what: string, note: string, evenSo: boolean): Promise<void> {
    const bridge = this.site.book?.bridge;
    if (bridge === undefined) return;
    const now = Date.now() + kept.clock();
    this.site.said = null;
    const entry = this.queue.add({ bridge, block, what, at: momentText(now, zoneHere(now)), who: this.who(), note, even_so: evenSo });
    await this.sendNow();
    const left = this.queue.list().find((e) => e.id === entry.id);
    if (left === undefined) return;
    const said = `${block}: ${deed(what).toLowerCase()}.`;
    this.site.said = left.refused === ""
      ? { says: `${said} Kept on this phone, not sent yet.`, number: null, wrong: false }
      : { says: `${said} Not taken in: see above.`, number: null, wrong: true };
    this.changed();
  }
  async evenSo(id: string): Promise<void> {
    this.queue.evenSo(id);
    await this.sendNow();
  }
  async mendTime(id: string, at: string): Promise<void> {
    this.queue.mendTime(id, at);
    await this.sendNow();
  }
  drop(entry: Entry): void {
    this.site.said = { says: `${entry.block}: ${deed(entry.what).toLowerCase()}. Thrown away, it is not written.`, number: null, wrong: false };
    this.queue.remove(entry.id);
  }
  async tryAgain(id: string): Promise<void> {
    this.queue.tryAgain(id);
    await this.sendNow();
  }
  async sendNow(): Promise<void> {
    const bridge = this.site.book?.bridge;
    if (bridge === undefined) return;
    await this.queue.flush(bridge);
    await this.refresh();
  }
  async takeBack(number: number): Promise<void> {
    try {
      const written = (await this.source.json("/api/daybook/cancel", { number, who: this.who() }, soon())) as Written;
      this.site.said = { says: `No. ${number} is taken back, by no. ${written.number}. Both stay written.`, number: null, wrong: false };
    } catch (error) {
      const gone = error instanceof Refused && error.status === 0;
      this.site.said = { says: gone ? "The server does not answer. Look whether it is taken back when it is here again." : words(error), number: gone ? null : number, wrong: true };
    }
    this.changed();
    await this.refresh();
  }

  private async send(entry: Entry): Promise<Outcome> {
    const { block, what, at, who, note, even_so } = entry;
    try {
      const written = (await this.source.json("/api/daybook/record", { entries: [{ block, what, at, who, note }], even_so }, soon())) as Written;
      this.site.here = true;
      this.tellWritten([...written.events, ...(written.written_before ?? [])]);
      return { kind: "written" };
    } catch (error) {
      const outcome = outcomeOf(error);
      // what was said of it while it waited is true no longer
      if (outcome.kind === "refused") this.site.said = { says: `${block}: ${deed(what).toLowerCase()}. Not taken in: see above.`, number: null, wrong: true };
      return outcome;
    }
  }
  private tellWritten(events: DayEvent[]): void {
    const event = events[0];
    if (event === undefined) return;
    const what = event.event === "note" ? "note" : deed(event.event).toLowerCase();
    this.site.said = { says: `Written, no. ${event.number}: ${event.name}, ${what}.`, number: event.number, wrong: false };
  }
}

function soon(after_ms = 15_000): AbortSignal {
  return AbortSignal.timeout(after_ms);
}

function words(error: unknown): string {
  return error instanceof Error ? error.message : "Something went wrong.";
}

/** The entry itself is refused by 400, 404, 409 and 413 only; all else may pass. */
export function outcomeOf(error: unknown): Outcome {
  if (!(error instanceof Refused) || error.status === 0) return { kind: "later", says: "The server does not answer." };
  if (error.status === 403) return { kind: "later", says: "This phone may not write: load the page anew, by the address with the token." };
  if ([400, 404, 409, 413].includes(error.status)) return { kind: "refused", says: error.message };
  return { kind: "later", says: error.message };
}
