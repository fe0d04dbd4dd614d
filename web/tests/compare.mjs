// Another version laid over, and the file to send, in a real browser over the sample arch.
// node tests/compare.mjs [PICTURES]

import assert from "node:assert/strict";
import { mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { sampleDesk } from "./sample_desk.mjs";
import { buildPage, kChromium, serve } from "./serve.mjs";

const pictures = process.argv[2];
const dist = await buildPage(await mkdtemp(join(tmpdir(), "lodge-")));
const browser = await chromium.launch(kChromium);
let failed = 0;

const change = (of, says, kind = "none", id = "", at = null, moment = "") => ({ of, says, place: { kind, id, at }, moment });
/** A sheaf with a head and lines, as the server writes it. */
function sheaf(head, lines) {
  const numbers = Buffer.from(new Float32Array(lines).buffer);
  const text = Buffer.from(JSON.stringify({ ...head, arrays: { lines: { type: "f32", at: 0, count: lines.length, width: 6 } } }));
  const first = Buffer.alloc(8);
  first.write("SKB1");
  first.writeUInt32LE(text.length, 4);
  return Buffer.concat([first, text, Buffer.alloc((8 - (text.length % 8)) % 8), numbers]);
}
const many = Array.from({ length: 12 }, (_, i) => change("verdicts", `case ${i} goes from stands to falls`, "case", "dead", null, "struck"));
const kHead = {
  view: "compare", of: 1, fresh: true, with: "older.toml",
  changes: [change("form", "the rise is 1.80 m, 0.30 m more", "none", "", [0, 0, 2], "shaped"), change("blocks", "2 blocks are gone: x1, x2"), ...many, change("brief", "form.rise is 1.8 m, it was 1.5 m", "key", "form.rise", null, "drawn")],
  back: [change("form", "the rise is 1.50 m, 0.30 m less")],
};

async function scenario(name, run, options = {}) {
  const server = await serve({ dist });
  const desk = sampleDesk(server);
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
  const page = await context.newPage();
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  await page.route(/\/api\/compare/, (route) => {
    const file = new URL(route.request().url()).searchParams.get("with");
    if (file === null) return route.fulfill({ json: { briefs: ["broken.toml", "older.toml"] } });
    if (file !== "older.toml") return route.fulfill({ status: 400, json: { faults: [{ says: "broken.toml:1: this is no brief" }] } });
    return route.fulfill({ body: sheaf(kHead, [-3, 0, 0, 0, 0, 2.2, 0, 0, 2.2, 3, 0, 0]), contentType: "application/octet-stream" });
  });
  try {
    await page.goto(server.address);
    await page.waitForFunction(() => Number(document.documentElement.dataset.drawn ?? 0) > 0);
    await run({ page, desk, server, shot: (id) => (pictures ? page.screenshot({ path: join(pictures, `compare-${id}.png`) }) : null) });
    assert.deepEqual(errors, []);
    console.log(`ok   ${name}`);
  } catch (error) {
    failed++;
    console.log(`FAIL ${name}\n     ${String(error).split("\n").slice(0, 12).join("\n     ")}`);
    if (pictures) await page.screenshot({ path: join(pictures, `compare-failed-${failed}.png`) });
  } finally {
    await context.close();
    await server.close();
  }
}
const drawn = (page) => page.evaluate(() => Number(document.documentElement.dataset.drawn));

await scenario("what changed is listed, folded, turned round, and leads to its place", async ({ page, shot }) => {
  await page.keyboard.press("o");
  const slip = page.locator("#slip");
  await slip.getByLabel("Brief").selectOption("older.toml");
  const before = await drawn(page);
  await slip.getByRole("button", { name: "lay it over" }).click();
  await slip.getByText("15 differences: form, blocks, verdicts and the brief itself.").waitFor();
  await page.waitForFunction((n) => Number(document.documentElement.dataset.drawn) > n, before);
  await shot("laid");
  assert.equal(await slip.locator("li").count(), 1 + 1 + 8 + 1);
  await slip.getByRole("button", { name: "and 4 more" }).click();
  assert.equal(await slip.locator("li").count(), 1 + 1 + 12 + 1);
  assert.equal(await slip.getByRole("button", { name: "2 blocks are gone" }).count(), 0, "what is gone has no place here");
  await slip.getByRole("button", { name: "the rise is" }).click();
  await page.waitForSelector('#life [data-kind="shaped"][aria-current="step"]');
  await slip.getByLabel("from this one to that one").check();
  await slip.getByText("the rise is 1.50 m, 0.30 m less").waitFor();
  await slip.getByLabel("from that one to this one").check();
  await slip.getByRole("button", { name: "form.rise is 1.8 m" }).click();
  await page.getByRole("heading", { name: "Change it" }).waitFor();
});
await scenario("comes back as it lay; a bad brief is told; a newer revision makes it stale", async ({ page, server, desk }) => {
  await page.keyboard.press("o");
  const slip = page.locator("#slip");
  await slip.getByLabel("Brief").selectOption("older.toml");
  await slip.getByRole("button", { name: "lay it over" }).click();
  await slip.getByText("15 differences").waitFor();
  await page.keyboard.press("o");
  await slip.waitFor({ state: "hidden" });
  await page.keyboard.press("o");
  await slip.getByText("15 differences").waitFor();
  const state = await (await fetch(new URL("/api/state", server.address))).json();
  server.tell("state", { ...state, revision: state.revision + 1 });
  await slip.getByText("Lay it over again.").waitFor();
  await slip.getByLabel("Brief").selectOption("broken.toml");
  await slip.getByRole("button", { name: "lay it over" }).click();
  await slip.getByText("this is no brief").waitFor();
  assert.ok(desk !== undefined);
});
await scenario("the file is written and its size is told", async ({ page, shot }) => {
  await page.route("**/api/export", (route) => route.fulfill({ body: "<!doctype html><title>all of it</title>", contentType: "text/html" }));
  await page.keyboard.press("e");
  const slip = page.locator("#slip");
  const [file] = await Promise.all([page.waitForEvent("download"), slip.getByRole("button", { name: "write the file" }).click()]);
  assert.match(file.suggestedFilename(), /^[A-Za-z0-9_-]+-r\d+\.html$/);
  assert.equal(await readFile(await file.path(), "utf8"), "<!doctype html><title>all of it</title>");
  await slip.getByText("MB, is with your downloads").waitFor();
  await shot("sent");
  await page.unroute("**/api/export");
  await page.route("**/api/export", (route) => route.fulfill({ status: 404, json: { faults: [{ says: "nothing is worked out yet" }] } }));
  await slip.getByRole("button", { name: "write the file" }).click();
  await slip.getByText("nothing is worked out yet").waitFor();
});
await scenario("on a phone too", async ({ page, shot }) => {
  await page.locator("#slip-buttons").getByRole("button", { name: "Lay another over it" }).click();
  const slip = page.locator("#slip");
  await slip.getByLabel("Brief").selectOption("older.toml");
  await slip.getByRole("button", { name: "lay it over" }).click();
  await slip.getByText("15 differences").waitFor();
  assert.ok((await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)) <= 0);
  await shot("phone");
}, { viewport: { width: 390, height: 844 }, colorScheme: "dark" });

await browser.close();
console.log(failed === 0 ? "all hold" : `${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
