// What this phone keeps of itself: who holds it, the last daybook it saw, what waits to be sent.

import type { Shelf } from "./queue";
import type { Daybook, PictureAnswer } from "./types";

const kName = "skewback-site-";

export function shelf(name: string): Shelf {
  return {
    read() {
      try {
        return localStorage.getItem(kName + name);
      } catch {
        return null;
      }
    },
    write(text) {
      try {
        localStorage.setItem(kName + name, text);
        return true;
      } catch {
        return false; // full, or not allowed
      }
    },
  };
}

export const whoShelf = shelf("who");
export const queueShelf = shelf("waiting");
const bookShelf = shelf("daybook");
const pictureShelf = shelf("picture");
const clockShelf = shelf("clock");

/** Calls when another tab of this phone changed what waits, or who it is. */
export function onOtherTab(call: () => void): void {
  addEventListener("storage", (event) => {
    if (event.key === null || event.key.startsWith(kName)) call();
  });
}

export const kept = {
  book: () => parsed<Daybook>(bookShelf, ["bridge", "blocks", "events", "now"]),
  keepBook: (book: Daybook) => bookShelf.write(JSON.stringify(book)),
  picture: () => parsed<PictureAnswer>(pictureShelf, ["assembly", "picture"]),
  keepPicture: (picture: PictureAnswer) => pictureShelf.write(JSON.stringify(picture)),
  /** Milliseconds that the server's clock is ahead. */
  clock: () => Number(clockShelf.read() ?? "0") || 0,
  keepClock: (ahead: number) => clockShelf.write(String(ahead)),
};

/** Null where it is not what this page wrote. */
function parsed<T>(from: Shelf, keys: string[]): T | null {
  try {
    const value: unknown = JSON.parse(from.read() ?? "null");
    if (typeof value !== "object" || value === null) return null;
    return keys.every((key) => key in value) ? (value as T) : null;
  } catch {
    return null;
  }
}
