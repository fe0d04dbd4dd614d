// The page in Firefox, over the sample arch: it draws, and is gone through by keys and by pressing. Needs firefox-esr, Xvfb
// and Mesa's software drawing; ends with 77 (left out) where the browser does not start or has no WebGL.
// node tests/firefox.mjs [folder for pictures]

import assert from "node:assert/strict";
import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import puppeteer from "puppeteer-core";
import { buildPage, serve } from "./serve.mjs";
import { everything } from "./sample.mjs";

const kLeftOut = 77;
const folder = await mkdtemp(join(tmpdir(), "lodge-firefox-"));
const pictures = process.argv[2] ?? folder;

async function start(preferences = {}) {
  const browser = await puppeteer.launch({
    browser: "firefox", executablePath: process.env.FIREFOX ?? "/usr/bin/firefox-esr", headless: false, timeout: 60000,
    extraPrefsFirefox: { "webgl.force-enabled": true, "ui.prefersReducedMotion": 1, ...preferences },
  });
  const page = await browser.newPage();
  await page.setViewport({ width: 1280, height: 800 });
  const draws = await page.evaluate(() => document.createElement("canvas").getContext("webgl2") !== null);
  return { browser, page, draws };
}

let first;
try {
  first = await start();
} catch (error) {
  console.log(`left out: Firefox does not start: ${error.message}`);
  process.exit(kLeftOut);
}
if (!first.draws) {
  await first.browser.close();
  console.log("left out: this Firefox has no WebGL");
  process.exit(kLeftOut);
}

const { views, json } = everything();
const site = await serve({ dist: await buildPage(join(folder, "dist")), views, json });
const open = async (page) => {
  await page.goto(site.address);
  await page.waitForFunction(() => Number(document.documentElement.dataset.drawn ?? 0) > 0 && document.querySelectorAll("#legend li").length > 0, { timeout: 60000 });
};
const text = (page, where) => page.$eval(where, (e) => e.textContent);
const wrong = [];
try {
  const { page } = first;
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("console", (said) => said.type() === "error" && !/404/.test(said.text()) && wrong.push(said.text()));
  await open(page);
  await page.screenshot({ path: join(pictures, "firefox.png") });
  assert.equal(await text(page, "h1"), "Sample Arch");
  assert.match(await text(page, "ol.findings li"), /falls under people/);

  await page.evaluate(() => [...document.querySelectorAll("ol.findings button")].find((b) => /It falls under people/.test(b.textContent)).click());
  await page.waitForFunction(() => document.querySelector("#choice")?.value === "crowd");
  assert.match(await page.$eval("#structure canvas", (e) => e.getAttribute("aria-label")), /falls/);
  await page.screenshot({ path: join(pictures, "firefox-falls.png") });

  await page.$eval(".stone[aria-current=step]", (e) => e.focus());
  await page.keyboard.press("Home");
  assert.match(await text(page, "#caption .moment"), /^Drawn/);
  await page.keyboard.press("ArrowRight");
  assert.match(await text(page, "#caption .moment"), /^Shaped/);

  for (const key of ["c", "t", "x"]) {
    await page.keyboard.press(key);
    await page.waitForFunction(() => !document.querySelector("#slip").hidden && document.querySelector("#slip h2") !== null);
    await page.evaluate(() => document.querySelector("#slip .away").click());
  }

  // turned with the pointer
  const canvas = await page.$("#structure canvas");
  const before = await canvas.screenshot({ encoding: "base64" });
  await page.mouse.move(640, 300);
  await page.mouse.down();
  await page.mouse.move(780, 340, { steps: 5 });
  await page.mouse.up();
  await page.waitForFunction((was) => Number(document.documentElement.dataset.drawn) > was, {}, await page.evaluate(() => Number(document.documentElement.dataset.drawn) - 1));
  assert.notEqual(await canvas.screenshot({ encoding: "base64" }), before);
  await first.browser.close();

  const dark = await start({ "ui.systemUsesDarkTheme": 1, "layout.css.devPixelsPerPx": "2.0" });
  await dark.page.setViewport({ width: 640, height: 400 });
  await open(dark.page);
  await dark.page.screenshot({ path: join(pictures, "firefox-dark-zoomed.png") });
  const seen = await dark.page.evaluate(() => ({ ratio: devicePixelRatio, wide: document.documentElement.scrollWidth - innerWidth, paper: getComputedStyle(document.body).backgroundColor }));
  assert.equal(seen.ratio, 2);
  assert.ok(seen.wide <= 0, `${seen.wide} px too wide`);
  assert.ok(seen.paper.match(/\d+/g).slice(0, 3).every((part) => Number(part) < 80), `dark paper is ${seen.paper}`);
  await dark.browser.close();

  assert.deepEqual(wrong, []);
  console.log("holds in Firefox");
} finally {
  await site.close();
}
process.exit(0);
