// The slips in a real browser, over the sample arch: change, try, cut.
// node tests/slips.mjs [PICTURES [WORD]]: pictures go into that folder; only scenarios named with that word run.

import assert from "node:assert/strict";
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { buildPage, kChromium, serve } from "./serve.mjs";
import { sampleDesk } from "./sample_desk.mjs";
import { sampleArch } from "./sample_arch.mjs";

const pictures = process.argv[2];
const dist = await buildPage(await mkdtemp(join(tmpdir(), "lodge-")));
const browser = await chromium.launch(kChromium);
let failed = 0, ran = 0;

const only = process.argv[3];
async function scenario(name, run, viewport = { width: 1280, height: 800 }, colorScheme = "light") {
  if (only && !name.includes(only)) return;
  const server = await serve({ dist });
  const desk = sampleDesk(server);
  const context = await browser.newContext({ viewport, colorScheme });
  const page = await context.newPage();
  const errors = [];
  page.on("pageerror", (error) => errors.push(String(error)));
  ran++;
  try {
    await page.goto(server.address);
    await page.waitForFunction(() => document.documentElement.dataset.drawn !== undefined);
    const shot = (id) => (pictures ? page.screenshot({ path: join(pictures, `${id}.png`) }) : Promise.resolve());
    await run({ page, desk, server, shot });
    assert.deepEqual(errors, []);
    console.log(`ok   ${name}`);
  } catch (error) {
    failed++;
    console.log(`FAIL ${name}\n     ${String(error).split("\n").slice(0, 12).join("\n     ")}`);
    if (pictures) await page.screenshot({ path: join(pictures, `failed-${ran}.png`) });
  } finally {
    await context.close();
    await server.close();
  }
}
const open = (page, name) => page.getByRole("navigation", { name: "Slips" }).getByRole("button", { name }).click();
const until = async (what, says, wait_ms = 5000) => {
  for (const start = Date.now(); Date.now() - start < wait_ms; ) {
    if (await what()) return;
    await new Promise((done) => setTimeout(done, 25));
  }
  assert.fail(says);
};
/** Where something is once it has come to rest; what moves is laid out with the next picture. */
const atRest = async (thing) => {
  for (let last = null, same = 0; ; await new Promise((done) => setTimeout(done, 60))) {
    const box = await thing.boundingBox();
    same = box && last && box.x === last.x && box.y === last.y && box.x > 10 ? same + 1 : 0;
    if (same >= 5) return box;
    last = box;
  }
};
const slip = (page) => page.locator("#slip");

await scenario("a number with its unit is typed, nudged, taken back by keys", async ({ page, desk, shot }) => {
  await open(page, "Change it");
  await page.getByLabel("Find").fill("rise");
  const rise = page.getByRole("textbox", { name: "rise" });
  await rise.fill("6 ft");
  await until(() => desk.text("form.rise") === '"6 ft"', "the typed rise was sent without leaving the field");
  await rise.press("ArrowUp");
  await until(() => desk.text("form.rise") === '"6.1 ft"', "the nudged rise was sent");
  await rise.press("Shift+ArrowDown");
  await until(() => desk.text("form.rise") === '"6.0 ft"', "the larger step was sent");
  await shot("change-found");
  await rise.press("Control+z");
  await until(() => desk.text("form.rise") === '"1.8 m"', "changes close in time are one deed");
  await until(async () => (await rise.inputValue()) === "1.8 m", "the field follows");
});

await scenario("a list is sent by Enter; a box without effect says why", async ({ page, desk }) => {
  await open(page, "Change it");
  await slip(page).getByText("Each point of this outline is the end of a support").waitFor();
  assert.ok(await slip(page).getByLabel("handles on the outline too").isDisabled());
  await slip(page).getByLabel("all keys, defaults and lists too").check();
  await page.getByLabel("Find").fill("outline");
  const list = slip(page).locator("textarea[data-key='plan.outline']");
  await list.fill('[["-4.4 m", "-0.95 m"], ["4.5 m", "-0.95 m"], ["4.5 m", "0.95 m"], ["-4.5 m", "0.95 m"]]');
  await list.press("Enter");
  await until(() => desk.text("plan.outline").includes("-4.4 m"), "the list was sent");
});

await scenario("a fault stands beside its field; nothing is changed", async ({ page, desk, shot }) => {
  await open(page, "Change it");
  await page.getByLabel("Find").fill("rise");
  const rise = page.getByRole("textbox", { name: "rise" });
  await rise.fill("3 furlong");
  await rise.press("Enter");
  await slip(page).getByText("Found: 3 furlong.").waitFor();
  await shot("change-fault");
  assert.equal(await rise.getAttribute("aria-invalid"), "true");
  assert.equal(desk.revision(), 1);
  await rise.press("Escape");
  assert.equal(await rise.inputValue(), "1.8 m");
  assert.equal(await rise.getAttribute("aria-invalid"), "false");
});

await scenario("someone else was first: the newest is taken, and that is said", async ({ page, desk, server }) => {
  await open(page, "Change it");
  await page.getByLabel("Find").fill("rise");
  const rise = page.getByRole("textbox", { name: "rise" });
  await rise.waitFor();
  server.tell = () => undefined; // the page is not told
  desk.elsewhere("form.rise", '"2 m"');
  await rise.fill("1.7 m");
  await rise.press("Enter");
  await until(async () => (await rise.inputValue()) === "2 m", "the field shows what was changed elsewhere");
  assert.equal(desk.text("form.rise"), '"2 m"');
  await page.getByRole("alert").filter({ hasText: "changed elsewhere" }).waitFor();
  await rise.fill("1.7 m");
  await rise.press("Enter");
  await until(() => desk.text("form.rise") === '"1.7 m"', "the next change goes through");
});

await scenario("handles in the picture write the keys they mean", async ({ page, desk, server, shot }) => {
  await open(page, "Change it");
  const rise = page.getByRole("button", { name: /^Rise\./ });
  const box = await atRest(rise);
  await shot("change-handles");
  const x = box.x + box.width / 2, y = box.y + box.height / 2;
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= 8; i++) {
    await page.mouse.move(x, y - 4 * i);
    await page.waitForTimeout(30);
  }
  await page.mouse.up();
  await until(() => Number(/([0-9.]+) m/.exec(desk.text("form.rise"))[1]) > 1.85, `the rise grew, is ${desk.text("form.rise")}`);
  const sent = desk.edits.length;
  await page.waitForTimeout(300);
  await page.getByRole("banner").getByRole("button", { name: "undo" }).click();
  await until(() => desk.text("form.rise") === '"1.8 m"', `one undo takes the whole drag of ${sent} changes back, is ${desk.text("form.rise")}`);
  const end = page.getByRole("button", { name: /^The whole support east/ });
  await end.focus();
  await end.press("ArrowUp");
  await until(() => JSON.parse(desk.text("plan.support[2].ends"))[0][1] !== "-0.95 m" || JSON.parse(desk.text("plan.support[2].ends"))[0][0] !== "4.5 m", "the support moved");
  assert.deepEqual(JSON.parse(desk.text("plan.outline"))[1], JSON.parse(desk.text("plan.support[2].ends"))[0], "the outline goes along");
  server.replies.set("/api/edit", () => ({ status: 400, body: { faults: [{ key: "plan.outline", says: "The outline crosses itself." }] } }));
  const there = await atRest(end);
  await end.press("ArrowRight");
  await slip(page).getByText("The outline crosses itself.").waitFor();
  const back = await atRest(end);
  assert.ok(Math.abs(back.x - there.x) < 1 && Math.abs(back.y - there.y) < 1, "the handle goes back to where the brief has it");
});

await scenario("a person is put on the deck and walked by arrow keys", async ({ page, desk, shot }) => {
  await open(page, "Try it");
  await page.getByRole("button", { name: "put a person on it" }).click();
  await slip(page).getByText("It was asked with 1 persons.").waitFor();
  const walk = page.getByRole("button", { name: "Walk Person 1 with the arrow keys" });
  await walk.focus();
  const before = desk.asked.length;
  for (let i = 0; i < 10; i++) await walk.press("ArrowRight");
  await until(() => desk.asked.at(-1).quick !== true && Math.abs(desk.asked.at(-1).persons[0].at[0] - 1) < 1e-6, `the whole answer is asked where it rests: ${JSON.stringify(desk.asked.at(-1))}`);
  assert.ok(desk.asked.slice(before).some((q) => q.quick === true), "quick answers while it moves");
  await shot("try-person");
  await slip(page).getByLabel("x, y in metres").fill("7, 0");
  await slip(page).getByLabel("x, y in metres").press("Enter");
  await slip(page).getByText("This place is off the walking surface.").waitFor();
  await page.getByRole("button", { name: "put everything back" }).click();
  await slip(page).getByText("The bridge itself stays as it is.").waitFor();
  assert.equal(await page.getByRole("button", { name: /^Person 1\./ }).count(), 0, "its mark is gone from the picture");
});

await scenario("a crowd dragged in the picture; a footing pushed; a tie out; a block away; friction", async ({ page, desk, shot }) => {
  await open(page, "Try it");
  await page.getByRole("button", { name: "put a crowd on it" }).click();
  const mark = page.getByRole("button", { name: /^Crowd 1\./ });
  const box = await atRest(mark);
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + 70, box.y + 10, { steps: 12 });
  await page.mouse.up();
  await until(() => desk.asked.at(-1)?.quick !== true && (Math.abs(desk.asked.at(-1)?.crowds[0]?.at[0]) > 0.2 || Math.abs(desk.asked.at(-1)?.crowds[0]?.at[1]) > 0.2), "the crowd went along");
  await shot("try-crowd");
  await slip(page).getByText("Footings", { exact: true }).click();
  const east = slip(page).getByRole("group", { name: "east" });
  await east.getByLabel("Outwards, mm").fill("10");
  await east.getByLabel("Outwards, mm").press("Enter");
  await until(() => Math.abs(desk.asked.at(-1).pushes[0]?.shift_m[0] - 0.01) < 1e-12, "east goes east by 10 mm");
  await slip(page).getByText("Ties", { exact: true }).click();
  await slip(page).getByLabel(/^west-east/).check();
  await until(() => desk.asked.at(-1).without_ties[0] === "west-east", "the tie is out");
  await slip(page).getByText("Friction", { exact: true }).click();
  await slip(page).getByLabel("Friction in all joints").fill("0,4");
  await slip(page).getByLabel("Friction in all joints").press("Enter");
  await until(() => desk.asked.at(-1).friction === 0.4, "friction is changed");
  await slip(page).getByText("Blocks", { exact: true }).click();
  await slip(page).getByLabel("or by its name").fill("b6");
  await slip(page).getByLabel("or by its name").press("Enter");
  await until(() => desk.asked.at(-1).without_blocks[0] === "b6", "the block is away");
  await slip(page).locator(".slip-verdict", { hasText: "falls" }).waitFor();
  await shot("try-falls");
});

await scenario("a crowd off the walk is put at its edge, and the answer stays", async ({ page, desk, shot }) => {
  await open(page, "Try it");
  await page.getByRole("button", { name: "put a crowd on it" }).click();
  await slip(page).locator(".slip-verdict", { hasText: "stands" }).waitFor();
  await slip(page).getByLabel("x, y in metres").fill("7, 0");
  await slip(page).getByLabel("x, y in metres").press("Enter");
  await slip(page).getByText("the mark stands at the nearest place on it").waitFor();
  await until(() => desk.asked.at(-1).quick !== true && desk.asked.at(-1).crowds[0].at[0] === 4.5, `asked at the edge: ${JSON.stringify(desk.asked.at(-1).crowds)}`);
  assert.equal(await slip(page).getByLabel("x, y in metres").inputValue(), "4.5, 0");
  await slip(page).locator(".slip-verdict", { hasText: "stands" }).waitFor();
  for (const name of ["Footings", "Ties", "Friction"]) await slip(page).getByText(name, { exact: true }).click();
  await slip(page).evaluate((e) => e.scrollTo(0, e.scrollHeight));
  await shot("try-pinned");
  const [box, place] = [await slip(page).locator(".slip-verdict").boundingBox(), await slip(page).boundingBox()];
  assert.ok(box.y >= place.y && box.y + box.height < place.y + place.height / 2, "the verdict stays in sight");
  await slip(page).getByLabel("Friction in all joints").fill("0.5");
  await slip(page).getByLabel("Friction in all joints").press("Enter");
  await page.waitForTimeout(600);
  await page.locator("#slip").getByText("What was asked").waitFor();
  assert.equal(await slip(page).getByText("the mark stands at the nearest").count(), 1, "told until the mark is moved again");
});

await scenario("a block that is not there is said not to be", async ({ page, desk }) => {
  await open(page, "Try it");
  await slip(page).getByText("Blocks", { exact: true }).click();
  await slip(page).getByLabel("or by its name").fill("nobody");
  await slip(page).getByLabel("or by its name").press("Enter");
  await slip(page).getByText("There is no block of the name nobody.").waitFor();
  assert.equal(desk.asked.length, 0);
});

await scenario("a section has its numbers; next and before; another case", async ({ page, shot }) => {
  await open(page, "Cut through it");
  await page.getByRole("button", { name: "the joint after" }).click();
  const drawing = slip(page).getByRole("img", { name: /^Section through the joint between west and b1/ });
  await drawing.waitFor();
  const { peak } = sampleArch();
  const row = slip(page).getByRole("row", { name: /Greatest pressure/ });
  const figure = Number(/[0-9.]+/.exec((await row.textContent()).replace("Greatest pressure", ""))[0]);
  assert.ok(Math.abs(figure - peak / 1e6) < 0.006, `${figure} against ${peak / 1e6} MPa by statics`);
  await shot("cut");
  await page.getByRole("button", { name: "the joint after" }).click();
  await slip(page).getByRole("img", { name: /between b1 and b2/ }).waitFor();
  await page.getByRole("button", { name: "the joint before" }).click();
  await drawing.waitFor();
  await slip(page).getByLabel("Under").selectOption("people");
  await slip(page).getByText("people all over", { exact: true }).last().waitFor();
  await slip(page).getByLabel("x, y in metres").fill("0, 0");
  await slip(page).getByLabel("x, y in metres").press("Enter");
  await slip(page).getByRole("img", { name: /^Force polygon of 3 forces/ }).waitFor();
  await slip(page).getByRole("img", { name: /^Force polygon of 3 forces/ }).scrollIntoViewIfNeeded();
  await shot("cut-node");
});

for (const [id, viewport, scheme] of [["phone", { width: 390, height: 844 }, "light"], ["dark", { width: 1280, height: 800 }, "dark"], ["zoomed", { width: 640, height: 400 }, "light"]])
  await scenario(`each slip stays within the page: ${id}`, async ({ page, shot }) => {
    for (const name of ["Change it", "Try it", "Cut through it"]) {
      await open(page, name);
      if (name === "Try it") await page.getByRole("button", { name: "put a crowd on it" }).click();
      if (name === "Cut through it") await page.getByRole("button", { name: "the joint after" }).click();
      await page.waitForTimeout(600);
      await shot(`${id}-${name.split(" ")[0].toLowerCase()}`);
      const over = await page.evaluate(() => {
        const slip = document.getElementById("slip");
        return { page: document.documentElement.scrollWidth - innerWidth, slip: slip.scrollWidth - slip.clientWidth };
      });
      assert.ok(over.page <= 0 && over.slip <= 1, `${name} is too wide: ${JSON.stringify(over)}`);
      if (id !== "dark") await page.getByRole("button", { name: "put away" }).click();
    }
  }, viewport, scheme);

await browser.close();
console.log(`${ran - failed} of ${ran} scenarios hold`);
process.exit(failed === 0 ? 0 : 1);
