import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { openPage, until } from "./lodge_server.mjs";

const kPhone = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };

function plan() {
  const block = (id, order, needs) => ({
    id, order, mass_kg: 100 + order, made: "printed", needs, joints: needs.length ? needs : ["ground"], up: "back up",
    centre_m: [order, 0, order === 5 ? 3 : 2], slings_m: [[0, 0, 1], [1, 0, 1]], cradle: order === 5, wind_m_s: 4, print_s: 20000, cure_s: 604800, journey_s: 86400, lead_s: 711200,
  });
  const blocks = [block("a1", 1, []), block("b1", 2, []), block("a2", 3, ["a1"]), block("b2", 4, ["b1"]), block("key", 5, ["a2", "b2"])];
  return JSON.stringify({ format: 1, bridge: "little-arch", title: "Little arch", assembly_sha256: "00ff00ff00ff00ff", blocks });
}

/** A phone with a name on it, at a block. */
async function phone(world, lodge, who, block) {
  const one = await openPage(world.browser, `${lodge.address}/site`, kPhone);
  await one.page.locator("#live").waitFor();
  await one.page.getByLabel("I am").fill(who);
  await one.page.getByLabel("Block", { exact: true }).fill(block);
  await one.page.getByLabel("Block", { exact: true }).press("Enter");
  await one.page.getByRole("heading", { name: block, exact: true }).waitFor();
  return one;
}
const press = (page, name) => page.getByRole("button", { name, exact: true }).click();

export async function twoPhones(world) {
  const lodge = await world.lodge(null);
  const day = join(lodge.folder, "day");
  writeFileSync(join(lodge.folder, "plan.json"), plan());
  const book = (...words) => JSON.parse(execFileSync(lodge.binary, ["daybook", day, ...words, "--json"], { encoding: "utf8" }));
  book("begin", "--plan", join(lodge.folder, "plan.json"));
  await lodge.start({ more: ["--daybook", day] });
  // different blocks at the same moment: both are written
  const ada = await phone(world, lodge, "Ada", "a1");
  const bo = await phone(world, lodge, "Bo", "b1");
  await Promise.all([press(ada.page, "Printed"), press(bo.page, "Printed")]);
  const written = (block) => book("list", block).events.map((e) => [e.event, e.who]);
  await until(() => written("a1").length === 1 && written("b1").length === 1, "both are written", 20_000);
  assert.deepEqual([written("a1"), written("b1")], [[["printed", "Ada"]], [["printed", "Bo"]]]);
  await world.shot(ada.page, "block");
  // the same block at the same moment: one is written, the other is told why not
  const cy = await phone(world, lodge, "Cy", "a2");
  const di = await phone(world, lodge, "Di", "a2");
  // both buttons in hand before either is pressed: news of the first takes the other's away
  const buttons = await Promise.all([cy, di].map((one) => one.page.getByRole("button", { name: "Printed", exact: true }).elementHandle()));
  await Promise.all(buttons.map((button) => button.evaluate((element) => element.click())));
  await until(async () => {
    const texts = await Promise.all([cy, di].map((one) => one.page.locator("body").innerText()));
    return texts.filter((text) => /Written, no\. \d+/.test(text)).length === 1 && texts.filter((text) => /printed/.test(text)).length === 2;
  }, "one of the two is told that it is written", 20_000);
  assert.equal(written("a2").length, 1, "written once");
  await world.shot(cy.page, "first");
  await world.shot(di.page, "second");
  await until(async () => /a1: printed/.test(await (await openPage(world.browser, `${lodge.address}/site`, kPhone)).page.locator("body").innerText()), "the list of a third phone", 20_000);
}
