// The lodge: the page over a server that answers.

import { listen, type ServerEvent } from "./events";
import { buildPage } from "./page";
import { findToken, serverSource } from "./source";
import type { LodgeState } from "./api";
import { kSlips } from "./all_slips";
import { takeState, wordsOf } from "./state";

const token = findToken();
const page = buildPage(serverSource(token), kSlips);
const { store, views } = page.desk;

function told(event: ServerEvent): void {
  let data: unknown;
  try {
    data = JSON.parse(event.data);
  } catch {
    return; // what cannot be read changes nothing
  }
  const { state } = store.get();
  if (event.name === "state") takeState(store, data as LodgeState);
  else if (event.name === "progress" && state !== null) store.set({ state: { ...state, busy: data as LodgeState["busy"] } });
  else if (event.name === "daybook") store.set({ daybookNumber: (data as { number: number }).number });
}

let unread = ""; // what kept this page from reading the state
async function refresh(): Promise<void> {
  try {
    await page.refresh();
    if (unread !== "" && store.get().trouble === unread) store.set({ trouble: "" });
    unread = "";
  } catch (error) {
    store.set({ trouble: (unread = wordsOf(error)) });
  }
}

listen("/api/events", token, {
  event: told,
  here(here) {
    store.set({ server: here ? "here" : "gone" });
    if (!here) return;
    views.forgetRefusals();
    void refresh();
  },
});
void refresh();
