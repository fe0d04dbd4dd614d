// What is a draft, of an older revision, in trouble or without effect says so.

import assert from "node:assert/strict";
import { join } from "node:path";
import { blocks, findings, proof, shape, state, withHead } from "./sample.mjs";

const part = (of, fresh, more = {}) => ({ of, fresh, failed: "", draft: "", took_s: 1, ...more });
const parts = (change) => ({ ...state().parts, ...change });
const luminance = ([r, g, b]) => [r, g, b].map((v) => v / 255).map((v) => (v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)).reduce((s, v, i) => s + v * [0.2126, 0.7152, 0.0722][i], 0);
const rgb = (text) => text.match(/[\d.]+/g).slice(0, 3).map(Number);
/** WCAG 2.2, 1.4.11: at least 3 to 1 for what has to be seen. */
const contrast = (a, b) => {
  const [x, y] = [luminance(rgb(a)), luminance(rgb(b))].sort((p, q) => q - p);
  return (x + 0.05) / (y + 0.05);
};

export async function stateScenarios({ scenario, open, stone, still, drawn, hash, caption, pictures }) {
  await scenario("a draft is shown at once, and as a draft", async (page, site) => {
    await open(page, site);
    site.tell("state", state({ revision: 2, busy: { stage: "stand", fraction: 0.3 }, parts: parts({
      shape: part(2, true), blocks: part(2, true), proof: part(2, false, { draft: "3 of 53 cases are proved so far" }), whole: part(1, false),
    }) }));
    await page.locator("#header .facts", { hasText: "revision 2" }).waitFor();
    assert.match(await page.locator("#header .facts").textContent(), /the proof is a draft; the whole is stale/);
    assert.equal(await page.locator("#header .work").textContent(), "working on the proof: stand, 30 %");
    assert.match(await caption(page), /Not whole yet: 3 of 53 cases are proved so far\./);
    assert.doesNotMatch(await caption(page), /Stale/);
    const struck = page.locator(".stone[data-kind=struck]");
    assert.match(await struck.getAttribute("class"), /\bdraft\b/);
    assert.doesNotMatch(await struck.getAttribute("class"), /\bstale\b/);
    assert.match(await struck.getAttribute("aria-label"), /a draft: 3 of 53 cases are proved so far/);
    await page.screenshot({ path: join(pictures, "draft.png") });
    site.tell("state", state({ revision: 2, parts: parts({ shape: part(2, true), blocks: part(2, true), proof: part(2, true), whole: part(1, false) }) }));
    await page.locator(".stone[data-kind=struck]:not(.draft)").waitFor();
    assert.doesNotMatch(await caption(page), /Not whole/);
    assert.equal(await page.locator("#header .work").textContent(), "");
  });

  await scenario("an answer that comes late never takes the place of a newer one", async (page, site) => {
    await open(page, site);
    const told = findings();
    let late = () => undefined;
    const old = new Promise((done) => (late = done));
    let asked = 0;
    await page.route("**/api/findings", async (route) => {
      const first = ++asked === 1;
      if (first) await old;
      await route.fulfill({ json: { ...told, list: told.list.slice(0, first ? 1 : 3) } });
    });
    site.tell("state", state({ revision: 2 }));
    await page.locator("#header .facts", { hasText: "revision 2" }).waitFor();
    site.tell("state", state({ revision: 3 }));
    await page.locator("#header .facts", { hasText: "revision 3" }).waitFor();
    await page.waitForTimeout(300);
    late();
    await page.waitForTimeout(300);
    assert.equal(asked, 2, "asked once for each revision");
    const counted = (await page.locator("#findings .fold").textContent()).replace(/Stale, of revision \d+: /, "").match(/\d+/g).map(Number).reduce((a, b) => a + b);
    assert.equal(counted, 3, "what is shown is of the later answer");
  });

  await scenario("the header says which part is on its way", async (page, site) => {
    await open(page, site);
    const work = page.locator("#header .work");
    const busy = async (revision, stage, change, says) => {
      site.tell("state", state({ revision, busy: { stage, fraction: 0.25 }, parts: parts(change) }));
      await work.filter({ hasText: says }).waitFor();
    };
    const old = part(1, false);
    await busy(2, "form", { shape: old, blocks: old, proof: old, whole: old }, "working on the shape: form, 25 %");
    await busy(2, "cut", { shape: part(2, true), blocks: old, proof: old, whole: old }, "working on the blocks: cut, 25 %");
    await busy(2, "stand", { shape: part(2, true), blocks: part(2, true), proof: old, whole: old }, "working on the proof: stand, 25 %");
    await busy(2, "erect: order", { shape: part(2, true), blocks: part(2, true), proof: part(2, true), whole: old }, "working on the whole: erect: order, 25 %");
  });

  await scenario("a movement that is switched off stops, and all lies as before", async (page, site) => {
    await open(page, site);
    await stone(page, "walked").click();
    await still(page);
    // rounded corners of labels are not drawn alike each time; a style element is not let in by the page's own policy
    await page.evaluate(() => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync("#structure .label { visibility: hidden !important }");
      document.adoptedStyleSheets.push(sheet);
    });
    const fall = page.getByRole("button", { name: "how it would fall" });
    const quiet = async () => {
      await page.mouse.move(2, 400);
      await page.evaluate(() => document.activeElement.blur());
      await still(page);
      return hash(page);
    };
    const before = await quiet();
    await fall.click();
    await page.waitForTimeout(400);
    const first = await drawn(page);
    await page.waitForFunction((n) => Number(document.documentElement.dataset.drawn) > n + 3, first);
    assert.ok(await page.locator("#fall").isVisible());
    await fall.click();
    await page.waitForTimeout(400);
    const last = await drawn(page);
    await page.waitForTimeout(1000);
    assert.equal(await drawn(page), last, "frames go on after it was switched off");
    assert.ok(!(await page.locator("#fall").isVisible()));
    assert.ok((await quiet()) === before, "the blocks do not lie as before");
    // the nozzle too, when its moment is left
    await stone(page, "printed").click();
    await page.waitForTimeout(500);
    await stone(page, "struck").click();
    await page.waitForTimeout(700);
    const there = await drawn(page);
    await page.waitForTimeout(800);
    assert.equal(await drawn(page), there, "the nozzle goes on unseen");
  }, { reducedMotion: "no-preference" });

  await scenario("a switch that would do nothing says why", async (page, site) => {
    await open(page, site);
    const fall = page.getByRole("button", { name: "how it would fall" });
    assert.equal(await fall.getAttribute("aria-disabled"), "true");
    assert.equal(await fall.getAttribute("title"), "No way to fall was found under this load.");
    await fall.click({ force: true });
    assert.equal(await page.locator("#note").textContent(), "No way to fall was found under this load.");
    assert.equal(await fall.getAttribute("aria-pressed"), "false");
    await stone(page, "walked").click();
    assert.equal(await fall.getAttribute("aria-disabled"), null);
    assert.match(await page.getByRole("button", { name: "undo" }).getAttribute("title"), /nothing to take back/);
  });

  await scenario("cases that are called alike are told apart, the verdict first", async (page, site) => {
    site.views.set("blocks", withHead(blocks(), ({ cases }) => ({ cases: [cases[0], ...["one", "two", "three"].map((id) => ({ ...cases[1], id, words: "people on a patch" }))] })));
    const said = ["one", "two", "three"].map((id, i) => ({ id, verdict: i === 1 ? "falls" : "stands", load_factor: 1.5 - 0.5 * i, at_cap: false, words: "people on a patch" }));
    site.views.set("proof", withHead(proof("dead"), () => ({ verdicts: said })));
    for (const id of ["dead", "one", "two", "three"]) site.views.set(`proof?case=${id}`, site.views.get("proof"));
    await open(page, site);
    await stone(page, "walked").click();
    const names = await page.locator("#choice option").allTextContents();
    assert.deepEqual(names, ["· weight", "✓ stands, × 1.5: people on a patch (one)", "✕ falls, × 1.0: people on a patch (two)", "✓ stands, × 0.5: people on a patch (three)"]);
  });

  await scenario("footings and ties of an older revision are marked as such", async (page, site) => {
    await open(page, site);
    await stone(page, "cut").click();
    await still(page);
    const fresh = await hash(page);
    assert.doesNotMatch(await page.locator("#legend").textContent(), /older/);
    site.tell("state", state({ revision: 3, parts: parts({ shape: part(3, true), blocks: part(3, true), proof: part(3, true), whole: part(1, false) }) }));
    await page.locator("#legend", { hasText: "footings and ties are older: of revision 1, the brief is at 3" }).waitFor();
    await still(page);
    assert.notEqual(await hash(page), fresh, "drawn as if it were fresh");
    await page.screenshot({ path: join(pictures, "older-ground.png") });
  });

  await scenario("the headline of older sentences says so first, before the page has asked for newer ones", async (page, site) => {
    await open(page, site);
    const fold = page.locator("#findings .fold");
    assert.match(await fold.textContent(), /^✕1 fails, /);
    await page.route("**/api/findings", () => new Promise(() => undefined));
    site.tell("state", state({ revision: 2 }));
    await fold.filter({ hasText: "Stale, of revision 1: 1 fails" }).waitFor();
    await page.screenshot({ path: join(pictures, "stale-headline.png") });
  }, { width: 390, height: 844 });

  await scenario("a sentence of an older revision is marked, and keeps its place by weight", async (page, site) => {
    const told = findings();
    site.json["/api/findings"] = { ...told, list: [...told.list.slice(1), { ...told.list[0], stale: 1 }, { id: "proof", weight: 0, share: null, says: "The proof did not come out: the mesh is too coarse.", place: { kind: "none", id: "", at: null }, moment: "struck" }] };
    await open(page, site);
    const list = await page.locator("ol.findings li").allTextContents();
    assert.match(list[0], /falls under people.*125 % of the limit, stale: of revision 1$/);
    assert.match(list[1], /The proof did not come out/);
    assert.equal(await page.locator(".finding.stale").count(), 1);
    assert.match(await page.locator("#findings .fold").textContent(), /hold.*\. 1 of these is stale\.$/);
    await page.screenshot({ path: join(pictures, "stale-sentence.png") });
  });

  await scenario("a moment with nothing to show says what is the case, and has no dead controls", async (page, site) => {
    for (const view of ["layers", "layers?block=v-3", "survey"]) site.views.delete(view);
    await page.route("**/api/view/{layers,survey}*", (route) => route.fulfill({ status: 404, contentType: "application/json", body: JSON.stringify({ faults: [{ says: "nothing to show of it yet" }] }) }));
    await open(page, site);
    await stone(page, "printed").click();
    await page.locator("#caption", { hasText: "This brief asks for no printing." }).waitFor();
    assert.equal(await page.locator("#choice, #print-share").count(), 0);
    await still(page);
    await page.screenshot({ path: join(pictures, "no-printing.png") });
    await stone(page, "as built").click();
    await page.locator("#caption", { hasText: "This brief has no survey." }).waitFor();
    assert.equal(await page.locator("#switches [data-show=survey]").getAttribute("title"), "This brief has no survey.");
  });

  await scenario("the focus goes into the slip, and back when it is put away", async (page, site) => {
    await open(page, site);
    const first = page.locator("ol.findings button").first();
    await first.focus();
    await page.keyboard.press("t");
    assert.equal(await page.evaluate(() => document.activeElement.textContent), "Try it");
    await page.keyboard.press("c");
    assert.equal(await page.evaluate(() => document.activeElement.textContent), "Change it");
    await page.keyboard.press("Escape");
    assert.ok(await first.evaluate((e) => e === document.activeElement));
    const button = page.getByRole("navigation", { name: "Slips" }).getByRole("button", { name: "Try it" });
    await button.focus();
    await page.keyboard.press("Enter");
    assert.equal(await page.evaluate(() => document.activeElement.tagName), "H2");
    await page.locator("#slip .away").focus();
    await page.keyboard.press("Enter");
    assert.ok(await button.evaluate((e) => e === document.activeElement));
  });

  await scenario("what is wrong with a name is forgotten when another is typed", async (page, site) => {
    await open(page, site);
    site.replies.set("/api/save", () => ({ status: 409, body: { faults: [{ says: "a file of that name is there already" }] } }));
    await page.getByRole("button", { name: "save as" }).click();
    await page.getByRole("button", { name: "save", exact: true }).click();
    const told = page.locator("dialog .told");
    await page.waitForFunction(() => document.querySelector("dialog .told").textContent !== "");
    await page.locator("dialog input").fill("../bad name");
    assert.equal(await told.textContent(), "");
  }, { refused: 409 });

  await scenario("a force polygon goes along with the form, or says of which revision it is", async (page, site) => {
    await open(page, site);
    let asked = 0;
    await page.route("**/api/node*", (route) => (++asked, route.continue()));
    await page.keyboard.press("x");
    await page.locator("#slip").getByLabel("x, y in metres").fill("0, 0");
    await page.locator("#slip").getByLabel("x, y in metres").press("Enter");
    await page.locator("#slip").getByText("it bears 0.300").waitFor();
    const old = part(1, false);
    site.tell("state", state({ revision: 2, parts: parts({ shape: old, blocks: old, proof: old, whole: old }) }));
    await page.locator("#slip").getByText("These forces are of revision 1, the brief is at 2.").waitFor();
    assert.equal(asked, 1);
    site.json["/api/node"] = { ...site.json["/api/node"], load_n: 700 };
    site.views.set("shape", shape());
    site.tell("state", state({ revision: 2, parts: parts({ shape: part(2, true), blocks: old, proof: old, whole: old }) }));
    await page.locator("#slip").getByText("it bears 0.700").waitFor();
    assert.equal(await page.locator("#slip").getByText("These forces are of revision").count(), 0);
  });

  await scenario("what went wrong stays until it is dismissed or a later deed goes well; a note goes", async (page, site) => {
    await page.clock.install();
    site.json["/api/state"] = state({ revision: 2, undo: true });
    await page.goto(site.address);
    const wrong = { status: 500, body: { faults: [{ says: "the pen is dry" }] } };
    site.replies.set("/api/undo", () => wrong);
    const undo = page.locator("#header").getByRole("button", { name: "undo" });
    const trouble = page.getByRole("alert").filter({ hasText: "The pen is dry." });
    await undo.click();
    await trouble.waitFor();
    await page.keyboard.press("n");
    await page.locator("#note", { hasText: "Joint" }).waitFor();
    await page.clock.runFor(60_000);
    assert.equal(await page.locator("#note").textContent(), "", "a note goes by itself");
    assert.ok(await trouble.isVisible(), "an error went by itself");
    await trouble.getByRole("button", { name: "dismiss" }).click();
    assert.ok(!(await page.locator("#trouble").isVisible()));
    await undo.click();
    await trouble.waitFor();
    site.replies.set("/api/undo", () => state({ revision: 3, undo: true, told: 1 }));
    await undo.click();
    await page.locator("#trouble").waitFor({ state: "hidden" });
  }, { refused: 500 });

  for (const colorScheme of ["light", "dark"])
    await scenario(`outlines of stones that are not there are seen: ${colorScheme}`, async (page, site) => {
      await open(page, site);
      for (const [kind, change] of [["missing", part(null, false)], ["stale", part(1, false)], ["draft", part(2, false, { draft: "half of it" })]]) {
        site.tell("state", state({ revision: 2, parts: parts({ whole: change }) }));
        await page.locator(`.stone.${kind}`).first().waitFor();
        const seen = await page.locator(`.stone.${kind}:not(.here) path`).first().evaluate((e) => ({ stroke: getComputedStyle(e).stroke, dash: getComputedStyle(e).strokeDasharray, page: getComputedStyle(document.body).backgroundColor }));
        assert.notEqual(seen.dash, "none");
        assert.ok(contrast(seen.stroke, seen.page) >= 3, `${kind}: ${seen.stroke} on ${seen.page}`);
      }
      await page.screenshot({ path: join(pictures, `outlines-${colorScheme}.png`) });
    }, { colorScheme });

  await scenario("on a phone the stone that is picked has its name", async (page, site) => {
    await open(page, site);
    const seen = new Set();
    for (const kind of ["drawn", "footings", "stage", "struck", "walked", "as built", "taken down"]) {
      // found and pressed at once: the strip may be drawn anew between two calls
      await page.evaluate((kind) => document.querySelector(`.stone[data-kind="${kind}"]`).dispatchEvent(new PointerEvent("pointerdown", { bubbles: true })), kind);
      await page.locator(`.stone.here[data-kind="${kind}"]`).first().waitFor();
      const { name, box, switches } = await page.evaluate(() => {
        const rect = (e) => (({ x, y, width, height }) => ({ x, y, width, height }))(e.getBoundingClientRect());
        const text = document.querySelector(".stone.here text.name") ?? document.querySelector("#life text.over");
        return { name: text.textContent, box: rect(text), switches: rect(document.getElementById("over")) };
      });
      assert.ok(box.x >= 0 && box.x + box.width <= 390, `${kind}: its name leaves the page`);
      assert.ok(box.y + 1 >= switches.y + switches.height, `${kind}: its name lies under the switches: ${box.y} after ${switches.y + switches.height}`);
      seen.add(name);
    }
    assert.deepEqual([...seen], ["drawn", "footings", "1–8", "struck", "walked on", "as built", "taken down"]);
    await page.screenshot({ path: join(pictures, "phone-name.png") });
  }, { width: 390, height: 844 });
}
