// The phone's page in Chromium, against the program itself. node web/tests/site.mjs BINARY [SHOTS]
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { chromium } from "playwright-core";

const binary = resolve(process.argv[2] ?? "build/skewback");
const shots = process.argv[3];
const brief = resolve(import.meta.dirname ?? ".", "../../examples/wren-leat/brief.toml");
const kPhone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
const kCameras = ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"];
const kFlags = ["--no-sandbox", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--use-gl=angle", "--use-angle=swiftshader"];

function plan() {
  const block = (id, order, needs) => ({
    id, order, mass_kg: 100 + order, made: "printed", needs, joints: needs.length ? needs : ["ground"], up: "back up",
    centre_m: [order, 0, order === 5 ? 3 : 2], slings_m: [[0, 0, 1], [1, 0, 1]], cradle: order === 5, wind_m_s: 4, print_s: 20000, cure_s: 0, journey_s: 86400, lead_s: 106400,
  });
  const blocks = [block("a1", 1, []), block("b1", 2, []), block("a2", 3, ["a1"]), block("b2", 4, ["b1"]), block("key", 5, ["a2", "b2"])];
  return JSON.stringify({ format: 1, bridge: "little-arch", title: "Little arch", assembly_sha256: "00ff00ff00ff00ff", blocks });
}

const folder = mkdtempSync(join(tmpdir(), "site-page-"));
const day = join(folder, "day");
writeFileSync(join(folder, "plan.json"), plan());
const daybook = (...words) => JSON.parse(execFileSync(binary, ["daybook", day, ...words, "--json"], { encoding: "utf8" }));
daybook("begin", "--plan", join(folder, "plan.json"));

async function serve(port) {
  const server = spawn(binary, ["serve", brief, "--daybook", day, ...(port > 0 ? ["--port", String(port)] : [])], { stdio: ["ignore", "pipe", "pipe"] });
  const address = await new Promise((found, failed) => {
    let text = "";
    const look = (data) => {
      text += data;
      const url = /http:\/\/[^\s]+/.exec(text)?.[0];
      if (url !== undefined) found(url.replace(/\/$/, ""));
    };
    server.stdout.on("data", look);
    server.stderr.on("data", look);
    server.on("exit", (code) => failed(new Error(`serve ended with ${code}: ${text}`)));
  });
  return { server, address };
}
let { server, address } = await serve(0);
const browser = await chromium.launch({ executablePath: "/usr/bin/chromium", headless: true, args: [...kFlags, ...kCameras] });

async function phone(options = {}, before = undefined) {
  const context = await browser.newContext({ ...kPhone, ...options });
  if (before !== undefined) await context.addInitScript(before);
  const page = await context.newPage();
  const wrong = [];
  page.on("pageerror", (error) => wrong.push(error.message));
  page.on("console", (said) => said.text().includes("Content Security Policy") && wrong.push(said.text()));
  page.on("dialog", (dialog) => wrong.push(dialog.message()));
  await page.goto(`${address}/site`);
  await page.waitForSelector("#live.here");
  return { context, page, wrong };
}
const events = (name) => daybook("list", ...(name === undefined ? [] : [name])).events;
const press = (page, says) => page.getByRole("button", { name: says, exact: true }).click();
const go = async (page, name) => {
  await page.fill("#name", name);
  await page.press("#name", "Enter");
  await page.waitForSelector(`h2:text-is("${name}")`);
};
const standing = (page, says) => page.waitForSelector(`.standing strong:text-is("${says}")`);

const tests = {
  async "records, shows it on another phone, takes it back"() {
    const one = await phone();
    const two = await phone();
    await two.page.click("summary:text-is('All 5 blocks')");
    await go(one.page, "a1");
    await press(one.page, "Printed");
    await one.page.waitForSelector("text=Say first who you are");
    assert.equal(events("a1").length, 0);
    await one.page.fill("#who", "Ada");
    await one.page.fill("#note", "<img src=x onerror=alert(1)> 'quoted'");
    await press(one.page, "Printed");
    await one.page.waitForSelector("text=Written, no. 1");
    await standing(one.page, "printed");
    const [event] = events("a1");
    assert.equal(event.who, "Ada");
    assert.equal(event.note, "<img src=x onerror=alert(1)> 'quoted'");
    await two.page.waitForSelector("text=a1: printed", { timeout: 10_000 });
    assert.ok(await two.page.evaluate(() => document.querySelector("#lists details").open));
    await two.page.waitForSelector("text=<img src=x onerror=alert(1)> 'quoted'");
    await press(one.page, "Take it back");
    await one.page.waitForSelector("text=No. 1 is taken back");
    await standing(one.page, "not made");
    await two.page.waitForSelector("text=a1: printed (taken back)");
    assert.equal(await one.page.inputValue("#who"), "Ada");
    return [one, two];
  },
  async "a name that no block has is said to be none, one of several to be picked"() {
    const one = await phone();
    const told = async (name, says) => {
      await one.page.fill("#name", name);
      await one.page.press("#name", "Enter");
      await one.page.waitForSelector(`#ask-says:text-is("${says}")`);
    };
    await told("zz9", "There is no block called zz9.");
    await told("a", "More than one block is called so. Pick one below.");
    assert.equal(await one.page.locator("#suggested a").count(), 2);
    await go(one.page, "key");
    const caption = one.page.locator("figure.side figcaption");
    await caption.waitFor();
    assert.match(await caption.textContent(), /^From the side(: \S+ on the left(, \S+ on the right)?)?$/);
    return [one];
  },
  async "an objection is shown, and is written even so only when said twice"() {
    const one = await phone();
    await one.page.fill("#who", "Ada");
    await go(one.page, "a2");
    await one.page.click("summary:text-is('More')");
    await press(one.page, "Placed…");
    await one.page.waitForSelector("text=found not made; expected on site or taken down");
    assert.equal(events("a2").length, 0);
    await press(one.page, "Write it even so");
    await standing(one.page, "placed");
    assert.deepEqual(events("a2").map((e) => e.event), ["placed"]);
    return [one];
  },
  async "what is written without the server is sent once it is back, with its own time"() {
    const one = await phone();
    await one.page.fill("#who", "Bo");
    await go(one.page, "b1");
    await one.context.setOffline(true);
    await press(one.page, "Printed");
    await one.page.waitForSelector("text=1 not sent yet.");
    await one.page.waitForTimeout(2100);
    daybook("record", "b2", "printed", "--who", "Cy"); // meanwhile
    assert.equal(events("b1").length, 0);
    await one.context.setOffline(false);
    await one.page.waitForSelector("text=1 not sent yet.", { state: "detached", timeout: 30_000 });
    const [event, ...more] = events("b1");
    assert.equal(more.length, 0);
    assert.equal(event.who, "Bo");
    assert.ok(Date.parse(event.written) - Date.parse(event.when) >= 1000, `${event.when} ${event.written}`);
    return [one];
  },
  async "a lost answer does not write it twice"() {
    const one = await phone();
    await one.page.fill("#who", "Bo");
    await go(one.page, "b1");
    await one.page.fill("#note", "frost on the bed");
    let lost = 0;
    await one.page.route("**/api/daybook/record", async (route) => {
      if (lost++ > 0) return route.continue();
      await route.fetch();
      return route.abort();
    });
    await press(one.page, "Write the note only");
    await one.page.waitForSelector("text=It may have arrived");
    assert.equal(events("b1").filter((e) => e.note === "frost on the bed").length, 1);
    await one.page.waitForSelector("text=1 not sent yet.", { state: "detached", timeout: 40_000 });
    assert.ok(lost >= 2);
    assert.equal(events("b1").filter((e) => e.note === "frost on the bed").length, 1);
    return [one];
  },
  async "what was kept and is refused later stays until it is settled"() {
    const one = await phone();
    await one.page.fill("#who", "Bo");
    await go(one.page, "b2");
    await one.context.setOffline(true);
    await press(one.page, "Cured");
    await one.page.waitForSelector("text=1 not sent yet.");
    await one.page.waitForTimeout(1200); // the daybook counts seconds
    daybook("record", "b2", "broken", "--who", "Cy");
    await one.context.setOffline(false);
    await one.page.waitForSelector("text=before it was broken", { timeout: 30_000 });
    await one.page.reload();
    await one.page.waitForSelector("text=before it was broken");
    await standing(one.page, "broken");
    assert.equal(await one.page.getByRole("button", { name: "Write it even so" }).count(), 0); // nothing mends a broken block
    await press(one.page, "Throw it away");
    await one.page.waitForSelector("text=before it was broken", { state: "detached" });
    assert.deepEqual(events("b2").map((e) => e.event), ["printed", "broken"]);
    return [one];
  },
  async "what another wrote meanwhile: the refusal has the buttons it speaks of, this phone's time, and a true foot"() {
    const one = await phone({ timezoneId: "Asia/Kolkata" });
    await one.page.fill("#who", "Bo");
    await go(one.page, "b1");
    await one.context.setOffline(true);
    await press(one.page, "Cured");
    await one.page.waitForSelector("#said >> text=Kept on this phone, not sent yet.");
    await one.page.waitForTimeout(1200);
    daybook("record", "b1", "checked", "--who", "Cy");
    await one.context.setOffline(false);
    await one.page.waitForSelector("text=before it was checked", { timeout: 30_000 });
    await one.page.waitForSelector("#said >> text=Not taken in: see above.");
    const told = await one.page.locator("#waiting [role=alert]").textContent();
    assert.doesNotMatch(told, /\d{4}-\d\d-\d\dT/);
    assert.equal(await one.page.getByRole("button", { name: "Write it even so" }).count(), 1);
    await one.page.locator("#waiting summary", { hasText: "Mend its time" }).click();
    if (shots !== undefined) await one.page.screenshot({ path: join(shots, "site-refused.png"), fullPage: true });
    const checked = events("b1").find((e) => e.event === "checked");
    const field = one.page.getByLabel("It happened at");
    const later = new Date(Date.parse(checked.when) + 5.5 * 3600_000).toISOString().slice(0, 19);
    await field.fill(later);
    await press(one.page, "Write it with this time");
    await standing(one.page, "cured");
    assert.equal(Date.parse(events("b1").find((e) => e.event === "cured").when), Date.parse(checked.when));
    return [one];
  },
  async "harm must be said twice"() {
    const one = await phone();
    await one.page.fill("#who", "Bo");
    await go(one.page, "b1");
    await one.page.click("summary:text-is('More')");
    await press(one.page, "Broken");
    assert.equal(events("b1").filter((e) => e.event === "broken").length, 0);
    await press(one.page, "Yes: broken");
    await standing(one.page, "broken");
    await one.page.waitForSelector("a:has-text('b1/2')");
    return [one];
  },
  async "a label is read by the camera; one of another bridge is not taken"() {
    const made = () => {
      window.label = "SKEWBACK2;another-bridge;a1;1 kg;1/5;on ground;then a2;top up;no lifting plan;00ff00ff00ff";
      window.BarcodeDetector = class {
        static getSupportedFormats() { return Promise.resolve(["qr_code"]); }
        detect() { return Promise.resolve(window.label === "" ? [] : [{ rawValue: window.label }]); }
      };
    };
    const one = await phone({ permissions: ["camera"] }, made);
    await press(one.page, "Scan");
    await one.page.waitForSelector("text=This label is of another bridge, another-bridge.");
    await one.page.evaluate(async () => (window.label = (await (await fetch("/api/daybook/key")).json()).label));
    await one.page.waitForSelector("h2:text-is('key')");
    assert.equal(await one.page.isHidden("#camera"), true);
    await press(one.page, "Back");
    await one.page.fill("#name", "SKEWBACK2;little-arch;b2;104 kg;4/5;on b1;then key;top up;no lifting plan;00ff00ff00ff");
    await one.page.waitForSelector("h2:text-is('b2')");
    return [one];
  },
  async "without a camera the page says why"() {
    const bare = await phone({}, () => delete window.BarcodeDetector);
    await press(bare.page, "Scan");
    await bare.page.waitForSelector("text=This browser cannot read codes.");
    const open = await phone({}, () => Object.defineProperty(window, "isSecureContext", { value: false }));
    await press(open.page, "Scan");
    await open.page.waitForSelector("text=only to pages that come over https");
    return [bare, open];
  },
  async "large enough for a thumb, readable at 200 %, light and dark, named for a screen reader"() {
    const used = [];
    for (const colorScheme of ["light", "dark"])
      for (const width of [390, 195]) {
        const one = await phone({ colorScheme, viewport: { width, height: width === 390 ? 844 : 422 } });
        await one.page.fill("#who", "Ada");
        for (const name of ["", "key"]) {
          if (name !== "") {
            await go(one.page, name);
            await one.page.waitForSelector(".drawing");
          }
          const found = await one.page.evaluate(() => {
            const seen = [...document.querySelectorAll("a, button, input, textarea, summary")].filter((e) => e.checkVisibility());
            return {
              small: seen.filter((e) => e.getBoundingClientRect().height < 48).map((e) => e.outerHTML),
              nameless: seen.filter((e) => !(e.textContent?.trim() || e.ariaLabel || e.labels?.length)).map((e) => e.outerHTML),
              wide: document.documentElement.scrollWidth - innerWidth,
            };
          });
          assert.deepEqual(found.small, []);
          assert.deepEqual(found.nameless, []);
          assert.ok(found.wide <= 0, `${colorScheme} ${width} ${name}: ${found.wide} px too wide`);
          if (shots !== undefined) await one.page.screenshot({ path: join(shots, `site-${colorScheme}-${width}-${name || "list"}.png`) });
        }
        used.push(one);
      }
    return used;
  },
  async "by keyboard alone"() {
    const one = await phone({ hasTouch: false, isMobile: false });
    await one.page.fill("#who", "Ada");
    await one.page.focus("#name");
    await one.page.keyboard.type("A 1");
    await one.page.keyboard.press("Enter");
    await one.page.waitForSelector("h2:text-is('a1')");
    await one.page.waitForSelector(".deeds button:text-is('Printed')");
    for (let i = 0; i < 40; ++i) {
      await one.page.keyboard.press("Tab");
      if ((await one.page.evaluate(() => document.activeElement?.textContent)) === "Printed") break;
    }
    await one.page.keyboard.press("Enter");
    await standing(one.page, "printed");
    return [one];
  },
  async "the page says when the server is gone, shows what it knew, and picks up again"() {
    const one = await phone();
    await one.page.fill("#who", "Ada");
    server.kill("SIGKILL");
    await one.page.waitForSelector("text=The server is gone. Shown as it was at");
    await go(one.page, "a2");
    await one.page.waitForSelector("text=These must be there first: a1.");
    await press(one.page, "Checked");
    await one.page.waitForSelector("text=1 not sent yet. The server does not answer.");
    ({ server, address } = await serve(new URL(address).port));
    await one.page.waitForSelector("#live.here", { timeout: 40_000 });
    // the new server has another token: the page fetches it by itself
    await one.page.waitForSelector("text=found placed; expected");
    await press(one.page, "Throw it away");
    return [one];
  },
  async "the token leaves the address"() {
    const context = await browser.newContext(kPhone);
    const page = await context.newPage();
    // as a page that came over the network: none of its pages holds a token
    await page.route((url) => ["/site", "/"].includes(url.pathname), async (route) => {
      const reply = await route.fetch();
      await route.fulfill({ response: reply, body: (await reply.text()).replace(/<meta name="lodge-token"[^>]*>/, "") });
    });
    await page.goto(`${address}/site#token=not-the-token-at-all`);
    await page.waitForSelector("#live.here");
    assert.equal(new URL(page.url()).hash, "");
    await page.fill("#who", "Ada");
    await go(page, "a1");
    await press(page, "Cured");
    await page.waitForSelector("text=This phone may not write");
    assert.equal(events("a1").filter((e) => e.event === "cured").length, 0);
    return [{ context, page, wrong: [] }];
  },
};

let failed = 0;
const only = process.argv[4];
for (const [name, test] of Object.entries(tests)) {
  if (only !== undefined && !name.includes(only)) continue;
  const began = Date.now();
  try {
    for (const { context, wrong } of await test()) {
      assert.deepEqual(wrong, []);
      // a page may be asking for its token again: its answer is waited for, not cut off
      for (const page of context.pages()) await page.unrouteAll({ behavior: "wait" });
      await context.close();
    }
    console.log(`ok      ${name} (${Date.now() - began} ms)`);
  } catch (error) {
    ++failed;
    console.log(`FAILED  ${name}\n${error.stack}`);
    if (shots !== undefined)
      for (const [i, page] of browser.contexts().flatMap((c) => c.pages()).entries())
        await page.screenshot({ path: join(shots, `failed-${failed}-${i}.png`), fullPage: true });
    for (const context of browser.contexts()) await context.close();
  }
}
await browser.close();
server.removeAllListeners("exit");
server.kill("SIGINT");
rmSync(folder, { recursive: true });
console.log(`${Object.keys(tests).length - failed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
