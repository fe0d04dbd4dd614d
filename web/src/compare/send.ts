// "Send it on": all that was worked out, as one file to be looked at elsewhere.

import { button, make } from "../dom";
import { Refused } from "../source";
import type { LodgeState } from "../api";
import type { Desk, Slip } from "../slips";
import { freshWords } from "../header";

export const sendSlip: Slip = { name: "send", title: "Send it on", key: "e", mount };

/** "drovers-hop-r3.html": letters, figures, - and _ only. */
export function fileName(state: LodgeState | null): string {
  const name = (state?.name ?? "").replace(/[^A-Za-z0-9_-]+/g, "-").replace(/^-+|-+$/g, "");
  return `${name === "" ? "bridge" : name}-r${state?.revision ?? 1}.html`;
}

function mount(into: HTMLElement, desk: Desk): () => void {
  const told = make("p", "slip-told");
  told.setAttribute("role", "status");
  const stale = make("p", "stale-words");
  const write = button("write the file", () => {
    write.disabled = true;
    told.textContent = "The file is being written…";
    desk.api.source.bytes("/api/export").then(
      (bytes) => {
        const name = fileName(desk.store.get().state);
        save(name, bytes);
        told.textContent = `${name}, ${(bytes.byteLength / 1e6).toFixed(1)} MB, is with your downloads.`;
      },
      (error: unknown) => (told.textContent = error instanceof Refused && error.message !== "" ? error.message : "The file could not be written."),
    ).finally(() => (write.disabled = false));
  });
  into.append(
    make("p", "", "One HTML file with all that was worked out so far: the structure at every moment of its life, the sentences, the proofs. It opens in a browser where nothing is installed and nothing is fetched. In it nothing can be changed or asked."),
    stale, write, told,
  );
  return desk.store.watch((now) => now.state, (state) => {
    const words = state === null ? "" : freshWords(state);
    stale.textContent = words === "" ? "" : `Now ${words}: that is left out of the file.`;
  });
}

function save(name: string, bytes: ArrayBuffer): void {
  const address = URL.createObjectURL(new Blob([bytes], { type: "text/html" }));
  const link = make("a", "");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
