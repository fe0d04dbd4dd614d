// The file that is sent: the same page over the sheaves in it, for viewing only.

import { buildPage } from "./page";
import { pageSource } from "./source";

const page = buildPage(pageSource(document), []);
page.desk.store.set({ server: "here" });
page.refresh().catch(() => page.desk.store.set({ trouble: "There is nothing in this file." }));
