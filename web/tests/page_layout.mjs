// Where the panels lie: none covers another, at a desk, on a tablet, on a phone and zoomed.

import assert from "node:assert/strict";
import { join } from "node:path";
import { blocks, findings, proof, state, withHead } from "./sample.mjs";

/** Pairs of panels that cover each other by more than a pixel, what sticks out, what is higher than the page allows. */
export const layout = (page) => page.evaluate(() => {
  const shown = (e) => e !== null && !e.hidden && e.checkVisibility() && e.textContent.trim() !== "";
  const boxes = ["header", "gone", "findings", "slip-buttons", "slip", "legend", "trouble", "note", "over", "life", "fall"]
    .map((id) => [id, document.getElementById(id)]).filter(([, e]) => shown(e)).map(([id, e]) => [id, e.getBoundingClientRect()]).filter(([, b]) => b.width > 0 && b.height > 0);
  const over = [];
  for (const [i, [a, p]] of boxes.entries())
    for (const [b, q] of boxes.slice(i + 1))
      if (Math.min(p.right, q.right) - Math.max(p.left, q.left) > 1 && Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top) > 1) over.push(`${a} over ${b}`);
  // a low page is scrolled
  const scrolls = getComputedStyle(document.body).overflowY === "auto";
  const top = scrolls ? -scrollY : 0, bottom = scrolls ? document.documentElement.scrollHeight - scrollY : innerHeight;
  const out = boxes.filter(([, b]) => b.left < -1 || b.right > innerWidth + 1 || b.top < top - 1 || b.bottom > bottom + 1).map(([id]) => id);
  const legend = document.getElementById("legend").getBoundingClientRect();
  return { over, out, scrolls, there: boxes.map(([id]) => id), legend_share: legend.height / innerHeight, sideways: document.documentElement.scrollWidth - innerWidth };
});

const long = "people so far from the middle that the sentence about them goes over more than one line of a narrow page";
const many = () => ({ ...findings(), list: Array.from({ length: 14 }, (_, i) => ({ id: `f${i}`, weight: i % 3, share: 0.9, says: `Case ${i}: ${long}.`, place: { kind: "none", id: "", at: null }, moment: "struck" })) });

export async function layoutScenarios({ scenario, open, stone, still, pictures }) {
  // the last: a desk at 200 % zoom
  for (const [name, width, height, deviceScaleFactor] of [["desk", 1280, 800, 1], ["tablet", 820, 1180, 1], ["phone", 390, 844, 1], ["desk zoomed", 640, 400, 2]])
    await scenario(`none of the panels covers another: ${name}`, async (page, site) => {
      const holds = async (what, ...there) => {
        await page.waitForTimeout(120);
        const seen = await layout(page);
        await page.screenshot({ path: join(pictures, `layout-${name}-${what.replaceAll(" ", "-")}.png`) });
        assert.deepEqual([seen.over, seen.out], [[], []], what);
        for (const id of there) assert.ok(seen.there.includes(id), `${what}: ${id} is not there`);
        assert.ok(seen.scrolls || seen.legend_share <= 0.3, `${what}: the legend takes ${seen.legend_share} of the height`);
        assert.ok(seen.sideways <= 0, `${what}: ${seen.sideways} px too wide`);
      };
      site.json["/api/findings"] = many();
      site.views.set("blocks", withHead(blocks(), ({ cases }) => ({ cases: cases.map((one) => ({ ...one, words: `${one.words}, ${long}` })) })));
      site.views.set("proof?case=crowd", withHead(proof("crowd"), () => ({ mechanism_words: `hinges at v-1 | v-2, ${long}; slides at v-3 | v-4, ${long}; ${long}` })));
      await open(page, site);
      await holds("as it opens", "header", "findings", "slip-buttons", "legend", "over", "life");
      const fold = page.locator("#findings .fold");
      if ((await fold.getAttribute("aria-expanded")) === "false") await fold.click();
      await holds("sentences open", "findings", "slip-buttons", "over", "life");
      await page.evaluate(() => document.querySelector("#findings .fold").click());
      // all that can be switched on, the way it would fall among it
      await stone(page, "walked").click();
      for (const show of ["pads", "mechanism", "walk"]) await page.locator(`#switches [data-show=${show}]`).evaluate((e) => e.click());
      await still(page);
      await holds("all switched on", "legend", "over", "life", "fall");
      await page.keyboard.press("n");
      await holds("a note", "note");
      for (const key of ["c", "t", "x", "o", "e"]) {
        await page.keyboard.press(key);
        await page.locator("#slip h2").waitFor();
        await holds(`slip ${key}`, "slip", "legend", "slip-buttons");
        await page.locator("#slip .away").click();
      }
      site.tell("state", state({ revision: 2, undo: true, busy: { stage: "stand: moved footings", fraction: 0.4 } }));
      site.replies.set("/api/undo", () => ({ status: 409, body: { faults: [{ says: long }] } }));
      await page.locator("#header").getByRole("button", { name: "undo" }).click();
      await page.locator("#trouble").waitFor();
      await site.close();
      await page.locator("#gone").waitFor();
      await holds("gone", "gone", "trouble", "header", "findings", "life");
      await page.keyboard.press("x");
      await holds("gone with a slip", "gone", "trouble", "slip");
    }, { width, height, deviceScaleFactor, refused: 409 });
  for (const [name, context] of [["phone", { width: 390, height: 844 }], ["touched tablet", { width: 1024, height: 768, hasTouch: true }]])
    await scenario(`buttons are large enough for a thumb, and the legend ends between two lines: ${name}`, async (page, site) => {
      const low = () => page.evaluate(() => [...document.querySelectorAll("button:not(.handle), select, summary")].filter((e) => e.checkVisibility() && e.getBoundingClientRect().height < 40).map((e) => e.outerHTML));
      await open(page, site);
      const fold = page.locator("#findings .fold");
      if ((await fold.getAttribute("aria-expanded")) === "false") await fold.click();
      assert.deepEqual(await low(), []);
      await page.evaluate(() => document.querySelector("#findings .fold").click());
      for (const show of ["pads", "walk", "ground"]) await page.locator(`#switches [data-show=${show}]`).evaluate((e) => e.click());
      await still(page);
      await page.screenshot({ path: join(pictures, `thumb-${name}.png`) });
      const lines = await page.locator("#legend").evaluate((e) => {
        const style = getComputedStyle(e);
        return (e.clientHeight - parseFloat(style.paddingTop) - parseFloat(style.paddingBottom)) / parseFloat(style.lineHeight);
      });
      assert.ok(lines > 2 && Math.abs(lines - Math.round(lines)) < 0.12, `${lines} lines of the legend are seen`);
      for (const key of ["c", "t", "x", "o", "e"]) {
        await page.keyboard.press(key);
        await page.locator("#slip h2").waitFor();
        assert.deepEqual(await low(), [], `slip ${key}`);
        await page.locator("#slip .away").click();
      }
    }, context);
}
