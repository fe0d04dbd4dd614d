import assert from "node:assert/strict";
import { statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { drawn, openPage, slip, sleep, until } from "./lodge_server.mjs";
import { goTo, nothingWrong } from "./scenes_look.mjs";

export async function survivesTheServer(world) {
  const lodge = await world.lodge();
  const { page } = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  const gone = page.locator("#gone");
  assert.ok(await gone.isHidden());
  const part = await slip(page, /Change it/);
  const rise = page.locator('[data-key="form.rise"]');
  await rise.waitFor();
  await lodge.stop("SIGKILL");
  await gone.waitFor({ state: "visible", timeout: 30_000 });
  assert.match((await gone.textContent()) ?? "", /does not answer/);
  await world.shot(page, "gone");
  assert.ok((await page.locator("#findings").textContent()) !== "", "what was known stays");
  await rise.fill("1.75 m");
  await rise.press("Enter");
  await part.locator(".slip-wrong", { hasText: "Not sent" }).waitFor();
  await world.shot(page, "not-sent");
  await sleep(1000);
  await lodge.start({ port: lodge.port });
  await gone.waitFor({ state: "hidden", timeout: 60_000 });
  await lodge.fresh();
  // the token is another now: the page must still be able to write
  await page.getByRole("alert").filter({ hasText: "Made on this page and not sent: rise 1.75 m." }).getByRole("button", { name: "send them" }).click();
  await until(async () => (await lodge.json("/api/state")).revision === 2, "an edit from the page that stayed open", 30_000);
  await until(async () => (await rise.inputValue()) === "1.75 m", "the field shows it");
}

export async function opensTheFile(world) {
  const lodge = await world.lodge();
  const { page } = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  const shown = await lodge.json("/api/findings");
  const part = await slip(page, /Send it on/);
  const [download] = await Promise.all([page.waitForEvent("download", { timeout: 120_000 }), part.getByRole("button", { name: "write the file" }).click()]);
  const file = join(lodge.folder, download.suggestedFilename());
  await download.saveAs(file);
  world.notes.push(`${download.suggestedFilename()}, ${(statSync(file).size / 1e6).toFixed(2)} MB`);
  await lodge.stop();
  const context = await world.browser.newContext({ viewport: { width: 1280, height: 800 }, offline: true });
  const seen = await context.newPage();
  const wrong = [];
  const asked = [];
  seen.on("pageerror", (error) => wrong.push(error.message));
  seen.on("console", (message) => message.type() === "error" && wrong.push(message.text()));
  seen.on("request", (one) => asked.push(one.url()));
  await seen.goto(`file://${file}`);
  await drawn(seen);
  for (const address of asked) assert.ok(/^(file|data|blob):/.test(address), `asks ${address}`);
  await seen.getByRole("heading", { name: "Drovers' Hop" }).waitFor();
  const more = seen.locator("#findings button.more");
  if (await more.isVisible()) await more.click();
  const said = await seen.locator("#findings li .says").allTextContents();
  assert.deepEqual(said, shown.list.map((each) => each.says), "other sentences than on the page");
  assert.equal(await seen.locator("#slip-buttons button").count(), 0, "slips in a file for viewing");
  assert.equal(await seen.getByRole("button", { name: "undo" }).count(), 0);
  for (const kind of ["shaped", "cut", "walked"]) {
    await goTo(seen, kind);
    await world.shot(seen, `file-${kind}`);
  }
  nothingWrong(wrong);
}

export async function refusesNastyRequests(world) {
  const lodge = await world.lodge(null);
  writeFileSync(join(lodge.folder, "secret.txt"), "not to be seen");
  await lodge.start();
  await lodge.fresh();
  const host = `127.0.0.1:${lodge.port}`;
  const json = { "Content-Type": "application/json" };
  const token = await lodge.token();
  const edit = JSON.stringify({ revision: 1, changes: [{ key: "form.rise", text: '"1.2 m"' }] });
  const status = async (...words) => (await lodge.raw(...words)).status;
  assert.equal(await status("GET", "/api/state", { Host: "evil.example" }), 403, "another Host");
  assert.equal(await status("GET", "/", { Host: "evil.example" }), 403, "another Host, the page with the token");
  assert.equal(await status("POST", "/api/edit", { Host: host, ...json }, edit), 403, "no token");
  assert.equal(await status("POST", "/api/edit", { Host: host, ...json, "X-Lodge-Token": "x".repeat(token.length) }, edit), 403, "a wrong token");
  assert.equal(await status("POST", "/api/edit", { Host: host, ...json, "X-Lodge-Token": token, Origin: "http://evil.example" }, edit), 403, "another Origin");
  assert.equal(await status("POST", "/api/edit", { Host: host, "Content-Type": "text/plain", "X-Lodge-Token": token }, edit), 415);
  assert.equal(await status("POST", "/api/edit", { Host: host, ...json, "X-Lodge-Token": token }, "{"), 400);
  assert.equal(await status("POST", "/api/edit", { Host: host, ...json, "X-Lodge-Token": token }, "[".repeat(100_000)), 400);
  const big = await status("POST", "/api/edit", { Host: host, ...json, "X-Lodge-Token": token }, JSON.stringify({ revision: 1, changes: "x".repeat(9e6) }));
  assert.ok(big === 413 || big === 0, `9 MB: ${big}`); // 0: closed before all was sent
  for (const path of ["/../secret.txt", "/assets/../../secret.txt", "/assets/%2e%2e/%2e%2e/secret.txt", "/api/compare?with=secret.txt", "/api/compare?with=../brief.toml", "/api/compare?with=%2Fetc%2Fpasswd", "/api/view/%00", "/api/daybook/..%2f..%2fsecret.txt"]) {
    const reply = await lodge.raw("GET", path, { Host: host });
    assert.ok([400, 403, 404].includes(reply.status), `${path}: ${reply.status}`);
    assert.ok(!reply.text.includes("not to be seen"), path);
  }
  for (const name of ["../out", "a/b", "", ".hidden", "brief", "x".repeat(500)]) {
    const reply = await lodge.post("/api/save", { name });
    assert.ok([400, 409].includes(reply.status), `save as "${name.slice(0, 20)}": ${reply.status}`);
  }
  for (const question of [{}, { case: "dead", live_factor: 1e308 }, { case: 7 }, { persons: [{ at: [1e9, 0], force_n: 800 }] }, { crowds: Array(1e4).fill({ at: [0, 0], radius_m: 1, pressure_pa: 1 }) }, { friction: -1 }, { without_blocks: ["no such"] }]) {
    const reply = await lodge.post("/api/ask", question);
    assert.ok([200, 400, 404, 413, 429].includes(reply.status), `${JSON.stringify(question).slice(0, 60)}: ${reply.status}`);
  }
  assert.equal((await lodge.json("/api/state")).revision, 1, "nothing was changed");
}
