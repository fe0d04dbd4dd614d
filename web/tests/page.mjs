// The page in a browser, over a server of files. Run: node web/tests/page.mjs [folder for pictures [word]]: only scenarios
// named with that word

import { gzipSync } from "node:zlib";
import assert from "node:assert/strict";
import { mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { buildPage, buildView, kChromium, serve } from "./serve.mjs";
import { awayScenarios } from "./page_away.mjs";
import { layoutScenarios } from "./page_layout.mjs";
import { readerScenarios } from "./page_reader.mjs";
import { stateScenarios } from "./page_states.mjs";
import { everything, findings, state } from "./sample.mjs";

const folder = await mkdtemp(join(tmpdir(), "lodge-page-"));
const pictures = process.argv[2] ?? folder;
const dist = await buildPage(join(folder, "dist"));
const browser = await chromium.launch(kChromium);
let count = 0;
let failed = 0;

const only = process.argv[3];
async function scenario(name, run, { width = 1280, height = 800, server = {}, refused = 404, ...context } = {}) {
  if (only !== undefined && !name.includes(only)) return;
  const { views, json } = everything();
  const site = await serve({ dist, views, json, ...server });
  const within = await browser.newContext({ viewport: { width, height }, reducedMotion: "reduce", ...context });
  const page = await within.newPage();
  const wrong = [];
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("request", (request) => request.url().startsWith(site.address) || request.url().startsWith("file:") || request.url().startsWith("blob:") || wrong.push(`asked ${request.url()}`));
  page.on("console", (said) => said.type() === "error" && !/404|ERR_CONNECTION_REFUSED|ERR_INCOMPLETE|ERR_EMPTY|403|creating WebGL/.test(said.text()) && !said.text().includes(`status of ${refused} `) && wrong.push(said.text()));
  try {
    await run(page, site, within);
    assert.deepEqual(wrong, []);
    console.log(`ok ${++count} ${name}`);
  } catch (error) {
    ++failed;
    await page.screenshot({ path: join(pictures, `failed-${failed}.png`) }).catch(() => undefined);
    console.log(`NOT OK ${++count} ${name}\n${error.stack}`);
  } finally {
    await within.close();
    await site.close();
  }
}
const drawn = (page) => page.evaluate(() => Number(document.documentElement.dataset.drawn ?? 0));
async function open(page, site) {
  await page.goto(site.address);
  await page.waitForFunction(() => Number(document.documentElement.dataset.drawn ?? 0) > 0 && document.querySelectorAll("#legend li").length > 0);
  await still(page);
}
/** Until nothing was drawn for a while. */
async function still(page) {
  for (let before = -1; before !== (await drawn(page)); ) {
    before = await drawn(page);
    await page.waitForTimeout(250);
  }
}
const stone = (page, name) => page.getByRole("group", { name: /life of the bridge/ }).getByRole("button", { name: new RegExp(`^${name}`) });
const caption = (page) => page.locator("#caption .moment").textContent();
const says = (page) => page.locator("#structure canvas").getAttribute("aria-label");
const hash = async (page) => (await page.locator("#structure").screenshot()).toString("base64");

await scenario("shows the bridge, its name and its worst sentence first", async (page, site) => {
  await open(page, site);
  await page.screenshot({ path: join(pictures, "struck.png") });
  assert.equal(await page.getByRole("heading", { level: 1 }).textContent(), "Sample Arch");
  assert.match(await page.title(), /Sample Arch/);
  const list = await page.locator("ol.findings li").allTextContents();
  assert.equal(list.length, 4, "what holds is folded away");
  assert.match(list[0], /falls under people/);
  assert.match(list[1], /<b>Not bold<\/b>/, "text is text");
  await page.getByRole("button", { name: "and 1 that hold" }).click();
  assert.equal(await page.locator("ol.findings li").count(), 5);
  assert.match(await page.locator("#legend").textContent(), /thrust/);
});

await scenario("a sentence takes you to its moment and its place", async (page, site) => {
  await open(page, site);
  const before = await hash(page);
  await page.getByRole("button", { name: /Footing right/ }).click();
  await still(page);
  assert.match(await caption(page), /^Footings/);
  assert.equal(await page.locator(".stone[aria-current=step]").getAttribute("data-kind"), "footings");
  assert.notEqual(await hash(page), before);
  await page.getByRole("button", { name: /Stage 4 is near/ }).click();
  await still(page);
  assert.match(await caption(page), /^Stage 4 of 23, place v-8: stands/);
  assert.match(await says(page), /4 of 9 blocks are there/);
  await page.getByRole("button", { name: /It falls under people/ }).click();
  await still(page);
  assert.equal(await page.locator("#choice").inputValue(), "crowd");
  assert.match(await says(page), /falls/);
  await page.getByRole("button", { name: /was not checked/ }).click();
  await still(page);
  assert.match(await page.locator(".label.chosen").first().textContent(), /v-4 \| v-5/);
});

await scenario("the life is gone along by keys and by pressing", async (page, site) => {
  await open(page, site);
  await stone(page, "drawn").click();
  assert.match(await caption(page), /^Drawn/);
  const seen = new Set();
  for (let i = 0; i < 60; ++i) {
    seen.add(await caption(page));
    await page.keyboard.press("ArrowRight");
  }
  assert.equal(seen.size, 23 + 8, "each stage and each named moment once");
  assert.match(await caption(page), /^Stage 23 of 23/);
  assert.match(await says(page), /0 of 9 blocks are there/);
  await page.keyboard.press("Home");
  assert.match(await caption(page), /^Drawn/);
  await page.keyboard.press("PageDown");
  assert.match(await caption(page), /^Shaped/);
  assert.equal(await page.locator(".stone:focus").getAttribute("data-kind"), "shaped");
  await page.getByRole("button", { name: "One step on" }).click();
  assert.match(await caption(page), /^Cut/);
  assert.equal(await page.locator(".stone[tabindex='0']").count(), 1);
});

await scenario("every moment shows something of its own", async (page, site) => {
  await open(page, site);
  const seen = new Map();
  for (const kind of ["drawn", "shaped", "cut", "printed", "footings", "stage", "closed", "struck", "walked", "as built", "taken down"]) {
    await page.locator(`.stone[data-kind="${kind}"]`).first().click();
    await still(page);
    const picture = await hash(page);
    assert.ok(![...seen.values()].includes(picture), `${kind} looks like another moment`);
    seen.set(kind, picture);
    await page.screenshot({ path: join(pictures, `moment-${kind.replace(" ", "-")}.png`) });
  }
});

await scenario("what is shown can be switched, and is kept for that moment", async (page, site) => {
  await open(page, site);
  const pads = page.getByRole("button", { name: "pressure in joints" });
  await pads.click();
  await still(page);
  assert.equal(await pads.getAttribute("aria-pressed"), "true");
  assert.match(await page.locator("#legend").textContent(), /pressure in the joints, 0 to .*MPa/);
  await page.screenshot({ path: join(pictures, "pads.png") });
  await stone(page, "printed").click();
  await page.locator("#choice").selectOption("v-3");
  await page.locator("#legend", { hasText: "v-3: 6 layers" }).waitFor();
  const whole = await hash(page);
  await page.locator("#print-share").fill("0.3");
  await still(page);
  assert.notEqual(await hash(page), whole, "less is laid");
  await stone(page, "cut").click();
  await stone(page, "struck").click();
  assert.equal(await page.getByRole("button", { name: "pressure in joints" }).getAttribute("aria-pressed"), "true");
});

await scenario("draws only when something changed", async (page, site) => {
  await open(page, site);
  const before = await drawn(page);
  await page.waitForTimeout(1500);
  assert.equal(await drawn(page), before);
  site.tell("progress", { stage: "proof", fraction: 0.5 });
  await page.locator("#header .work", { hasText: "50 %" }).waitFor();
  await page.waitForTimeout(300);
  assert.equal(await drawn(page), before, "progress is no reason to draw");
  await page.locator("#structure canvas").focus();
  await page.keyboard.press("ArrowLeft");
  await page.waitForFunction((n) => Number(document.documentElement.dataset.drawn) > n, before);
});

await scenario("the way it would fall moves slowly", async (page, site) => {
  await open(page, site);
  await stone(page, "walked").click();
  await page.getByRole("button", { name: "how it would fall" }).click();
  await page.waitForTimeout(400);
  const [first, one] = [await drawn(page), await hash(page)];
  await page.waitForTimeout(900);
  assert.ok((await drawn(page)) > first + 5, "frames go on");
  assert.notEqual(await hash(page), one);
  assert.match(await page.locator("#fall").textContent(), /^It would fall so: hinges at v-1/);
  assert.doesNotMatch(await page.locator("#legend").textContent(), /hinges/, "the long words are not in the legend");
}, { reducedMotion: "no-preference" });

await scenario("who asked for less motion sees two positions, still", async (page, site) => {
  await open(page, site);
  await stone(page, "walked").click();
  await page.getByRole("button", { name: "how it would fall" }).click();
  await still(page);
  const before = await drawn(page);
  await page.waitForTimeout(800);
  assert.equal(await drawn(page), before);
});

await scenario("joints are gone through by n and p, the picture is turned by keys", async (page, site) => {
  await open(page, site);
  await page.keyboard.press("n");
  await still(page);
  assert.match(await page.locator("#note").textContent(), /ground-left\|v-1|ground-left \| v-1/);
  await page.keyboard.press("n");
  await still(page);
  assert.match(await page.locator(".label.chosen").first().textContent(), /v-1 \| v-2/);
  await page.keyboard.press("Home");
  await page.keyboard.press("?");
  assert.ok(await page.getByRole("dialog", { name: "Keys" }).isVisible());
  await page.keyboard.press("Escape");
  assert.ok(!(await page.getByRole("dialog", { name: "Keys" }).isVisible()));
});

await scenario("a block that is pressed is chosen", async (page, site) => {
  await open(page, site);
  await stone(page, "cut").click();
  await still(page);
  const before = await hash(page);
  const { width, height } = page.viewportSize();
  let chosen = false;
  for (let y = height * 0.2; y < height * 0.75 && !chosen; y += 24) {
    await page.mouse.click(width * 0.62, y);
    await still(page);
    chosen = (await page.locator(".label.chosen").count()) > 0 && (await hash(page)) !== before;
  }
  assert.ok(chosen, "something was chosen along a line through the arch");
});

await scenario("a node stands its force polygon there", async (page, site) => {
  await open(page, site);
  await stone(page, "shaped").click();
  await still(page);
  const { width, height } = page.viewportSize();
  const has = async () => /force polygon of node 5/.test(await page.locator("#legend").textContent());
  for (let y = height * 0.2; y < height * 0.75 && !(await has()); y += 16) {
    await page.mouse.click(width * 0.62, y);
    await page.waitForTimeout(120);
  }
  assert.ok(await has());
  await still(page);
  await page.screenshot({ path: join(pictures, "polygon.png") });
});

await scenario("pointing from the slip goes to the surface, and the polygon stands there until it is taken away", async (page, site) => {
  await open(page, site);
  await page.keyboard.press("x");
  const slip = page.locator("#slip");
  await slip.getByRole("button", { name: "point at a place" }).click();
  await still(page);
  assert.match(await caption(page), /^Shaped/);
  const { width, height } = page.viewportSize();
  const has = async () => /force polygon of node 5/.test(await page.locator("#legend").textContent());
  for (let y = height * 0.2; y < height * 0.75 && !(await has()); y += 16) {
    await page.mouse.click(width * 0.5, y);
    await page.waitForTimeout(120);
  }
  assert.ok(await has());
  await slip.getByText("The polygon stands in the structure, at its node.").waitFor();
  await slip.getByText("it bears 0.300").waitFor();
  await still(page);
  await page.screenshot({ path: join(pictures, "polygon-slip.png") });
  await stone(page, "struck").click();
  await slip.getByRole("button", { name: "show it there" }).click();
  assert.match(await caption(page), /^Shaped/);
  await slip.getByRole("button", { name: "take it away" }).click();
  await still(page);
  assert.ok(!(await has()));
});

await scenario("stale and missing parts are marked and say so", async (page, site) => {
  await open(page, site);
  const parts = { ...state().parts, whole: { of: 1, fresh: false, failed: "", took_s: 1 }, proof: { of: 1, fresh: false, failed: "", took_s: 1 } };
  site.json["/api/findings"] = { ...findings(), fresh: false };
  site.tell("state", state({ revision: 2, saved: false, undo: true, busy: { stage: "proof", fraction: 0.25 }, parts }));
  await page.locator("#header .facts", { hasText: "revision 2" }).waitFor();
  assert.match(await page.locator("#header .facts").textContent(), /not saved.*the proof and the whole are stale/);
  assert.match(await page.locator("#header .work").textContent(), /^working on the proof: 25 %$/);
  assert.ok((await page.locator(".stone.stale").count()) > 5);
  assert.match(await caption(page), /Stale: made of revision 1, the brief is at 2/);
  await page.locator("#findings.stale").waitFor();
  assert.match(await page.locator("#findings").textContent(), /Stale: these are of revision 1/);
  await page.screenshot({ path: join(pictures, "stale.png") });
  site.replies.set("/api/stop", () => ({}));
  await page.getByRole("button", { name: "Stop the work" }).click();
  await page.waitForTimeout(200);
  assert.deepEqual(site.asked.map((each) => each.path), ["/api/stop"]);
  site.tell("progress", { stage: "proof", fraction: 0.5 });
  await page.locator("#header .work", { hasText: "50 %" }).waitFor();
});

await scenario("the whole can be asked for, where it is not there", async (page, site) => {
  for (const view of ["stages", "ground", "centring", "layers", "layers?block=v-3", "survey"]) site.views.delete(view);
  const parts = { ...state().parts, whole: { of: null, fresh: false, failed: "", took_s: 0 } };
  site.json["/api/state"] = state({ parts });
  site.replies.set("/api/run", () => ({}));
  await open(page, site);
  await stone(page, "placed").click();
  assert.match(await caption(page), /Not worked out yet/);
  assert.ok((await page.locator(".stone.missing").count()) >= 5);
  await page.getByRole("button", { name: "work out the whole" }).click();
  await page.waitForTimeout(200);
  assert.deepEqual(site.asked, [{ path: "/api/run", body: { until: "whole" } }]);
});

await scenario("says when the server is gone, and goes on when it is back", async (page, site) => {
  await open(page, site);
  await site.close();
  await page.getByRole("alert").filter({ hasText: "does not answer" }).waitFor();
  await page.screenshot({ path: join(pictures, "gone.png") });
  const { views, json } = everything();
  json["/api/state"] = state({ title: "Sample Arch, again", revision: 7 });
  const again = await serve({ dist, views, json, port: site.port });
  await page.locator("#header .facts", { hasText: "revision 7" }).waitFor({ timeout: 15000 });
  assert.ok(!(await page.locator("#gone").isVisible()));
  assert.equal(await page.getByRole("heading", { level: 1 }).textContent(), "Sample Arch, again");
  await again.close();
});

await scenario("lives on with sheaves that are broken or not there", async (page, site) => {
  for (const name of ["blocks", "stages", "proof", "proof?case=dead"]) site.views.set(name, site.views.get(name).subarray(0, 200));
  await page.goto(site.address);
  await page.getByRole("heading", { level: 1 }).filter({ hasText: "Sample Arch" }).waitFor();
  await stone(page, "placed").click();
  await page.locator("#caption .moment", { hasText: "the head is longer than the bytes" }).waitFor();
  assert.equal(await page.locator("ol.findings li").count(), 4);
});

await scenario("lists everything where the browser cannot draw", async (page, site, context) => {
  await context.addInitScript(() => {
    const real = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (kind, ...rest) {
      return /webgl/.test(kind) ? null : real.call(this, kind, ...rest);
    };
  });
  await page.goto(site.address);
  await page.getByText("does not draw in three dimensions").waitFor();
  await page.locator("ol.findings li").first().waitFor();
  assert.equal(await page.locator("ol.findings li").count(), 4);
  await stone(page, "cut").click();
  assert.match(await caption(page), /^Cut/);
  await page.screenshot({ path: join(pictures, "nodraw.png") });
});

for (const [name, width, height, scheme] of [["wide", 1280, 800, "light"], ["dark", 1280, 800, "dark"], ["phone", 390, 844, "light"], ["zoomed", 640, 400, "light"]])
  await scenario(`fits ${width} by ${height}, ${scheme}`, async (page, site) => {
    await open(page, site);
    await page.screenshot({ path: join(pictures, `${name}.png`) });
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(over <= 0, `${over} px too wide`);
    for (const one of await page.getByRole("button").all()) {
      if (!(await one.isVisible())) continue;
      const label = (await one.getAttribute("aria-label")) ?? (await one.textContent());
      assert.ok((label ?? "").trim() !== "", "a button without a name");
    }
    await stone(page, "cut").click();
    assert.match(await caption(page), /^Cut/);
  }, { width, height, colorScheme: scheme });

const tools = { scenario, open, stone, still, drawn, hash, caption, pictures };
await layoutScenarios(tools);
await stateScenarios(tools);
await awayScenarios(tools);
await readerScenarios(tools);

await scenario("is one file that needs no server, for viewing", async (page) => {
  const out = await buildView(join(folder, "view"));
  const html = await readFile(join(out, "view.html"), "utf8");
  assert.ok(html.includes("<!--SHEAVES-->"));
  const { views, json } = everything();
  const packed = (bytes) => gzipSync(Buffer.from([0, 1, 2, 3].flatMap((first) => [...Buffer.from(bytes)].filter((_, i) => i % 4 === first)))).toString("base64");
  const parts = [...views].map(([name, bytes]) => `<script type="application/octet-stream" data-packed="planes gzip" data-sheaf="${name}">${packed(bytes)}</script>`);
  for (const [path, told] of Object.entries(json)) parts.push(`<script type="application/json" data-json="${path}">${JSON.stringify(told).replaceAll("<", "\\u003c")}</script>`);
  const file = join(folder, "bridge.html");
  await writeFile(file, html.replace("<!--SHEAVES-->", () => parts.join("\n")));
  await page.goto(`file://${file}`);
  await page.waitForFunction(() => Number(document.documentElement.dataset.drawn ?? 0) > 0 && document.querySelectorAll("#legend li").length > 0);
  await still(page);
  assert.equal(await page.getByRole("heading", { level: 1 }).textContent(), "Sample Arch");
  assert.equal(await page.getByRole("button", { name: "undo" }).count(), 0);
  await stone(page, "walked").click();
  await still(page);
  assert.match(await says(page), /falls/);
  await page.screenshot({ path: join(pictures, "view.png") });
});

await browser.close();
console.log(failed === 0 ? `all ${count} hold` : `${failed} of ${count} do not hold; pictures in ${pictures}`);
process.exit(failed === 0 ? 0 : 1);
