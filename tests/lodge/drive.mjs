// The lodge as people use it: Chromium against the real server.
//   node tests/lodge/drive.mjs BINARY [--shots FOLDER] [--only 1,4,9]
// Ends with 1 if a scenario failed. Each starts its own server on its own copy of an example.

import { mkdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { Lodge, openBrowser } from "./lodge_server.mjs";
import * as look from "./scenes_look.mjs";
import * as change from "./scenes_change.mjs";
import * as site from "./scenes_site.mjs";
import * as keep from "./scenes_keep.mjs";

const words = process.argv.slice(2);
const option = (name) => (words.includes(name) ? words[words.indexOf(name) + 1] : undefined);
const binary = resolve(words[0] ?? "build/skewback");
const shots = option("--shots");
const only = option("--only")?.split(",").map(Number);
if (shots !== undefined) mkdirSync(shots, { recursive: true });

const scenes = [
  ["opens, draws, tells what is wrong, on a desk and on a phone", look.opens],
  ["an edit changes the verdict; undo brings it back", change.changesTheVerdict],
  ["a bad edit is refused beside its key and changes nothing", change.refusesABadEdit],
  ["saves as a new brief, never over one, comments kept", change.savesBesideTheBrief],
  ["a person is walked over the deck by keys; the joints answer", look.walksALoad],
  ["along the life, stage by stage", look.goesAlongTheLife],
  ["a joint is cut through: thrust point and pressure", look.cutsAJoint],
  ["two tabs agree; the older revision is refused", change.twoTabsAgree],
  ["two phones record at once; the same block only once", site.twoPhones],
  ["the server is killed; the page says so and picks up when it is back", keep.survivesTheServer],
  ["the file to send opens from the disk, asks nothing of anyone, says the same", keep.opensTheFile],
  ["another version laid over; what changed, in words", change.laysAnotherOver],
  ["nasty requests are refused and the server lives", keep.refusesNastyRequests],
  ["keyboard only, 200 % zoom, dark, names for screen readers", look.forEveryone],
  ["a long run can be stopped", change.stopsALongRun],
];

const browser = await openBrowser();
let failed = 0;
for (const [i, [name, scene]] of scenes.entries()) {
  if (only !== undefined && !only.includes(i + 1)) continue;
  const lodges = [];
  const world = {
    browser,
    /** A server that is running, ended with the scenario. */
    async lodge(options = {}, example = undefined) {
      const lodge = new Lodge(binary, example);
      lodges.push(lodge);
      if (options !== null) await lodge.start(options);
      return lodge;
    },
    async shot(page, what) {
      if (shots !== undefined) await page.screenshot({ path: join(shots, `${String(i + 1).padStart(2, "0")}-${what}.png`) });
    },
    notes: [],
  };
  const begun = Date.now();
  try {
    await scene(world);
    console.log(`ok   ${i + 1} ${name} (${((Date.now() - begun) / 1000).toFixed(1)} s)${world.notes.map((note) => `\n       ${note}`).join("")}`);
  } catch (error) {
    failed++;
    console.log(`FAIL ${i + 1} ${name}\n${error instanceof Error ? error.stack : error}${world.notes.map((note) => `\n       ${note}`).join("")}`);
    for (const context of browser.contexts())
      for (const page of context.pages()) await world.shot(page, `failed-${context.pages().indexOf(page)}`).catch(() => undefined);
  }
  for (const context of browser.contexts()) await context.close();
  for (const lodge of lodges) await lodge.clear();
}
await browser.close();
console.log(failed === 0 ? "all hold" : `${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
