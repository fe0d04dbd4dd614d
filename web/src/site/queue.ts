// Entries on their way to the daybook. Each lies in the phone's storage until the server has said
// that it is written, or it is thrown away: nothing is lost, nothing swallowed.

export interface Entry {
  id: string;
  bridge: string;
  block: string;
  what: string;
  at: string; // says with who and note which one it is: the server writes it once
  who: string;
  note: string;
  even_so: boolean;
  tried: number;
  /** Why the server would not take it; empty: it was not asked, or did not answer. */
  refused: string;
}
export type NewEntry = Omit<Entry, "id" | "tried" | "refused">;

export interface Shelf {
  read(): string | null;
  write(text: string): boolean;
}

/** What came back of one try. `later`: no answer, or one that is not about the entry. */
export type Outcome = { kind: "written" } | { kind: "refused"; says: string } | { kind: "later"; says: string };

export class Queue {
  private running: Promise<void> | null = null;
  private again = false;
  private kept: Entry[] = [];
  /** Why nothing moves; empty: it does. */
  stuck = "";
  /** False: this browser keeps nothing, what waits is lost with the page. */
  keeps = true;

  constructor(
    private readonly shelf: Shelf,
    private readonly send: (entry: Entry) => Promise<Outcome>,
    private readonly changed: () => void,
    private readonly newId: () => string,
  ) {}

  /** From the shelf each time: another tab may have changed it. */
  list(): Entry[] {
    if (this.keeps) this.kept = readEntries(this.shelf.read());
    return this.kept;
  }
  add(entry: NewEntry): Entry {
    const made: Entry = { ...entry, id: this.newId(), tried: 0, refused: "" };
    this.put([...this.list(), made]);
    return made;
  }
  remove(id: string): void {
    this.put(this.list().filter((e) => e.id !== id));
  }
  evenSo(id: string): void {
    this.change(id, { even_so: true, refused: "" });
  }
  /** It happened at another moment than was written. */
  mendTime(id: string, at: string): void {
    this.change(id, { at, refused: "" });
  }
  tryAgain(id: string): void {
    this.change(id, { refused: "" });
  }

  /** Sends what waits, in order, one at a time; never two runs at once. Ends at the first that
   *  gets no answer. */
  flush(bridge: string): Promise<void> {
    if (this.running !== null) {
      this.again = true;
      return this.running;
    }
    this.running = this.runs(bridge).finally(() => {
      this.running = null;
      this.changed();
    });
    return this.running;
  }
  private async runs(bridge: string): Promise<void> {
    do {
      this.again = false;
      this.stuck = "";
      for (let next = nextToSend(this.list(), bridge); next !== null; next = nextToSend(this.list(), bridge)) {
        this.change(next.id, { tried: next.tried + 1 });
        const outcome = await this.send(next);
        if (outcome.kind === "later") {
          this.stuck = outcome.says;
          return;
        }
        if (outcome.kind === "written") this.remove(next.id);
        else this.change(next.id, { refused: outcome.says });
      }
    } while (this.again);
  }

  private change(id: string, to: Partial<Entry>): void {
    this.put(this.list().map((e) => (e.id === id ? { ...e, ...to } : e)));
  }
  private put(entries: Entry[]): void {
    this.kept = entries;
    this.keeps = this.shelf.write(JSON.stringify(entries));
    this.changed();
  }
}

/** First that was not refused, of this bridge, and of a block none of whose entries before it was. */
export function nextToSend(entries: Entry[], bridge: string): Entry | null {
  const held = new Set<string>();
  for (const entry of entries) {
    if (entry.bridge !== bridge) continue;
    const block = entry.block.split("/")[0] ?? entry.block;
    if (entry.refused !== "") held.add(block);
    else if (!held.has(block)) return entry;
  }
  return null;
}

export function readEntries(text: string | null): Entry[] {
  if (text === null || text === "") return [];
  try {
    const list: unknown = JSON.parse(text);
    return Array.isArray(list) ? list.filter(isEntry) : [];
  } catch {
    return [];
  }
}

function isEntry(one: unknown): one is Entry {
  if (typeof one !== "object" || one === null) return false;
  const e = one as Record<string, unknown>;
  const texts = ["id", "bridge", "block", "what", "at", "who", "note", "refused"].every((k) => typeof e[k] === "string");
  return texts && typeof e["even_so"] === "boolean" && typeof e["tried"] === "number";
}
