import assert from "node:assert/strict";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { button, openPage, slip, until } from "./lodge_server.mjs";
import { nothingWrong } from "./scenes_look.mjs";

async function setKey(page, key, text) {
  const part = await slip(page, /Change it/);
  const field = part.locator(`[data-key="${key}"]`);
  if (!(await field.isVisible())) await part.getByLabel("Find").fill(key.split(".").pop().replace(/_/g, " "));
  await field.fill(text);
  await field.press("Enter");
  return part;
}
const verdicts = async (lodge) => (await lodge.proof()).verdicts;
const revision = (lodge, least) => until(async () => (await lodge.json("/api/state")).revision >= least, `revision ${least}`, 30_000);

export async function changesTheVerdict(world) {
  const lodge = await world.lodge();
  const { page, wrong } = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  const before = await verdicts(lodge);
  assert.ok(before.every((v) => v.verdict === "stands"), "it stands to begin with");
  const summary = page.locator("#findings .fold");
  const { list } = await lodge.json("/api/findings");
  const counted = (text) => (text.match(/\d+/g) ?? []).map(Number).reduce((a, b) => a + b, 0);
  await until(async () => counted((await summary.textContent()) ?? "") === list.length, "the page has all that the server found");
  const told = await summary.textContent();
  await world.shot(page, "before");
  await setKey(page, "section.depth_crown", "60 mm");
  await revision(lodge, 2);
  const begun = Date.now();
  await setKey(page, "section.depth_springing", "60 mm");
  await revision(lodge, 3);
  const shape = await lodge.fresh("shape");
  const shaped_ms = Date.now() - begun;
  assert.equal(shape.revision, 3);
  const state = await lodge.fresh();
  world.notes.push(`after the edit: shape ${state.parts.shape.took_s.toFixed(3)} s, blocks ${state.parts.blocks.took_s.toFixed(3)} s, proof ${state.parts.proof.took_s.toFixed(3)} s of work; shape seen fresh ${shaped_ms} ms, all ${Date.now() - begun} ms after Enter`);
  const after = await verdicts(lodge);
  const fell = after.filter((v) => v.verdict === "falls");
  assert.ok(fell.length > 0, `60 mm holds every case: ${JSON.stringify(after)}`);
  await until(async () => /fail/.test((await summary.textContent()) ?? ""), "the sentences say so");
  await world.shot(page, "after");
  // undone twice: the first verdicts again
  await page.locator("#header").getByRole("button", { name: "undo" }).click();
  await revision(lodge, 4);
  await page.locator("#header").getByRole("button", { name: "undo" }).click();
  await revision(lodge, 5);
  await lodge.fresh();
  assert.deepEqual(await verdicts(lodge), before);
  await until(async () => (await summary.textContent()) === told, "the sentences of the beginning");
  nothingWrong(wrong);
}

export async function refusesABadEdit(world) {
  const lodge = await world.lodge();
  const { page } = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  const part = await setKey(page, "form.rise", "banana");
  await until(async () => (await part.locator(".slip-wrong").allTextContents()).some((says) => says.trim() !== ""), "the fault is told");
  assert.equal(await part.locator('[data-key="form.rise"]').getAttribute("aria-invalid"), "true");
  await world.shot(page, "refused");
  const state = await lodge.json("/api/state");
  assert.equal(state.revision, 1);
  assert.equal(state.undo, false);
}

export async function savesBesideTheBrief(world) {
  const lodge = await world.lodge(null);
  const comment = "# what the wardens asked for";
  writeFileSync(lodge.brief, lodge.text().replace('rise = "1.8 m"', `rise = "1.8 m"  ${comment}`));
  assert.ok(lodge.text().includes(comment));
  await lodge.start();
  const old = lodge.text();
  const { page } = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  await setKey(page, "form.rise", "1.6 m");
  await revision(lodge, 2);
  assert.equal(lodge.text(), old, "an edit touched the brief that was opened");
  const save = async (name) => {
    await page.locator("#header").getByRole("button", { name: /save as/ }).click();
    const dialog = page.locator("dialog[open]");
    await dialog.getByRole("textbox").fill(name);
    await dialog.getByRole("button", { name: "save" }).click();
    return dialog;
  };
  await save("flatter");
  await until(() => existsSync(join(lodge.folder, "flatter.toml")), "the new brief");
  const fresh = readFileSync(join(lodge.folder, "flatter.toml"), "utf8");
  assert.equal(fresh, old.replace('"1.8 m"', '"1.6 m"'), "only the value changed");
  const told = await save("flatter");
  await until(async () => ((await told.getByRole("alert").textContent()) ?? "") !== "", "it is not written over");
  assert.equal(readFileSync(join(lodge.folder, "flatter.toml"), "utf8"), fresh);
  assert.equal(lodge.text(), old);
}

export async function twoTabsAgree(world) {
  const lodge = await world.lodge();
  const one = await openPage(world.browser, lodge.address);
  const two = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  await slip(two.page, /Change it/);
  await setKey(one.page, "form.rise", "1.7 m");
  await two.page.locator("#header .facts", { hasText: "revision 2" }).waitFor({ timeout: 15_000 });
  await until(async () => (await two.page.locator('[data-key="form.rise"]').inputValue()) === "1.7 m", "the other tab shows the new rise", 20_000);
  const late = await lodge.post("/api/edit", { revision: 1, changes: [{ key: "form.rise", text: '"1.5 m"' }] });
  assert.equal(late.status, 409);
  const ways = await Promise.all(["1.71 m", "1.72 m"].map((rise) => lodge.post("/api/edit", { revision: 2, changes: [{ key: "form.rise", text: `"${rise}"` }] })));
  assert.deepEqual(ways.map((way) => way.status).sort(), [200, 409], "of two at once one is taken");
  for (const { page } of [one, two]) await page.locator("#header .facts", { hasText: "revision 3" }).waitFor({ timeout: 15_000 });
}

export async function laysAnotherOver(world) {
  const lodge = await world.lodge(null);
  writeFileSync(join(lodge.folder, "older.toml"), lodge.text().replace('rise = "1.8 m"', 'rise = "1.5 m"').replace("count = 23", "count = 21"));
  writeFileSync(join(lodge.folder, "broken.toml"), "[plan\nrise = 3\n");
  await lodge.start();
  const { page } = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  const part = await slip(page, /Lay another over it/);
  const choice = part.getByLabel("Brief");
  await until(async () => (await choice.locator("option").count()) === 2, "the two other briefs are offered");
  await choice.selectOption("older.toml");
  await part.getByRole("button", { name: "lay it over" }).click();
  await part.locator(".compare-kind").first().waitFor({ timeout: 180_000 });
  const said = await part.locator(".compare-kind li").allTextContents();
  world.notes.push(said.slice(0, 6).join(" | "));
  assert.ok(said.some((says) => /^the rise is 1\.80 m, 0\.30 m more$/.test(says)), said.join("\n"));
  assert.ok(said.some((says) => /^form\.rise is 1\.8 m, it was 1\.5 m$/.test(says)));
  assert.ok(said.some((says) => /^blocks\.count is 23, it was 21$/.test(says)));
  assert.ok(said.some((says) => /blocks? (is|are) new/.test(says)), "two more blocks");
  await world.shot(page, "over");
  const drawnBefore = Number(await page.evaluate(() => document.documentElement.dataset["drawn"]));
  await part.getByRole("button", { name: /blocks? (is|are) new/ }).click();
  await until(async () => Number(await page.evaluate(() => document.documentElement.dataset["drawn"])) > drawnBefore, "it goes to the place");
  await part.getByLabel("from this one to that one").check();
  await until(async () => (await part.locator(".compare-kind li").allTextContents()).some((says) => /^the rise is 1\.50 m, 0\.30 m less$/.test(says)), "the other way round");
  await choice.selectOption("broken.toml");
  await part.getByRole("button", { name: "lay it over" }).click();
  await until(async () => !/being worked out|differences/.test((await part.getByRole("status").textContent()) ?? ""), "a bad brief is told");
}

export async function stopsALongRun(world) {
  const lodge = await world.lodge({}, "wren-leat");
  const { page } = await openPage(world.browser, lodge.address);
  await until(async () => (await lodge.json("/api/state")).busy !== null, "work goes on", 60_000);
  const begun = Date.now();
  await page.locator("#header").getByRole("button", { name: "Stop the work" }).click();
  await until(async () => (await lodge.json("/api/state")).busy === null, "the work ends", 60_000);
  world.notes.push(`stopped ${Date.now() - begun} ms after the press`);
  await button(page, "Stop the work").waitFor({ state: "hidden" });
  const edit = await lodge.post("/api/edit", { revision: (await lodge.json("/api/state")).revision, changes: [{ key: "form.rise", text: '"1.6 m"' }] });
  assert.equal(edit.status, 200, "it goes on working after that");
}
