import assert from "node:assert/strict";
import { button, drawn, openPage, slip, until } from "./lodge_server.mjs";

/** Fails with all that the browser found wrong. */
export const nothingWrong = (wrong) => assert.deepEqual(wrong, [], "errors in the browser");

/** Picks a moment by the kind of its stone. */
export async function goTo(page, kind) {
  await page.locator(`#life [data-kind="${kind}"]`).first().focus();
  await page.locator(`#life [data-kind="${kind}"]`).first().dispatchEvent("pointerdown");
  await page.waitForFunction((k) => document.querySelector(`#life [data-kind="${k}"][aria-current="step"]`) !== null, kind);
}
/** No two of the panels that lie over the picture cover each other, and nothing sticks out. */
async function layout(page) {
  return page.evaluate(() => {
    const boxes = ["header", "findings", "foot", "slip"].map((id) => [id, document.getElementById(id)]).filter(([, e]) => e !== null && !e.hidden).map(([id, e]) => [id, e.getBoundingClientRect()]);
    const over = [];
    for (const [i, [a, p]] of boxes.entries())
      for (const [b, q] of boxes.slice(i + 1))
        if (Math.min(p.right, q.right) - Math.max(p.left, q.left) > 2 && Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top) > 2) over.push(`${a} over ${b}`);
    return { over, sideways: document.documentElement.scrollWidth - innerWidth };
  });
}

export async function opens(world) {
  const lodge = await world.lodge();
  const { page, wrong, asked } = await openPage(world.browser, lodge.address);
  const state = await lodge.fresh();
  world.notes.push(`shape ${state.parts.shape.took_s.toFixed(2)} s, proof ${state.parts.proof.took_s.toFixed(2)} s`);
  await page.getByRole("heading", { name: "Drovers' Hop" }).waitFor();
  const findings = await lodge.json("/api/findings");
  assert.ok(findings.list.length > 0, "there are sentences");
  assert.deepEqual(findings.list.map((f) => f.weight), findings.list.map((f) => f.weight).sort((a, b) => a - b), "worst first");
  await until(async () => (await page.locator("#findings li").count()) > 0 || (await page.locator("#findings .fold").textContent()) !== "Nothing is known yet.", "sentences are shown");
  const layers = await layout(page);
  assert.deepEqual(layers.over, [], "panels cover each other");
  assert.ok(layers.sideways <= 0, `${layers.sideways} px wider than the window`);
  for (const address of asked) assert.ok(address.startsWith(lodge.address) || /^(data|blob):/.test(address), `asked elsewhere: ${address}`);
  await world.shot(page, "desk");
  // what came last may still be on its way to the page
  const drawn = async () => Number(await page.evaluate(() => document.documentElement.dataset["drawn"]));
  await page.waitForTimeout(3000);
  const frames = await drawn();
  await page.waitForTimeout(1500);
  assert.equal(await drawn(), frames, "drawn again though nothing changed");
  nothingWrong(wrong);
  const phone = await openPage(world.browser, lodge.address, { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true });
  await phone.page.waitForTimeout(500);
  assert.ok((await layout(phone.page)).sideways <= 0, "wider than the phone");
  await world.shot(phone.page, "phone");
  nothingWrong(phone.wrong);
}

export async function walksALoad(world) {
  const lodge = await world.lodge();
  const { page, wrong } = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  const before = await lodge.json("/api/state");
  const part = await slip(page, /Try it/);
  await button(page, "put a person on it").click();
  await part.locator(".slip-verdict").waitFor({ timeout: 60_000 });
  const peak = async () => /Greatest pressure ([\d.]+)\s(\w+)/.exec((await part.locator(".slip-answer").textContent()) ?? "")?.[0];
  const place = part.getByLabel("x, y in metres");
  const first = { at: await place.inputValue(), peak: await peak() };
  const weight = part.getByLabel("Weight");
  await weight.fill("20 kN");
  await weight.press("Enter");
  await until(async () => (await peak()) !== first.peak, "a heavier one presses more", 60_000);
  const heavy = await peak();
  await part.getByRole("button", { name: /Walk Person 1/ }).focus();
  const times = [];
  for (let i = 0; i < 6; ++i) {
    const told = page.waitForResponse((r) => r.url().endsWith("/api/ask"), { timeout: 60_000 });
    const begun = Date.now();
    await page.keyboard.press("Shift+ArrowRight");
    await told;
    times.push(Date.now() - begun);
  }
  world.notes.push(`a step of the walk answered in ${times.join(", ")} ms`);
  assert.notEqual(await place.inputValue(), first.at, "it walked");
  await until(async () => (await peak()) !== heavy, "another place presses otherwise", 60_000);
  await until(async () => !/quick answer/.test((await part.locator(".slip-verdict").textContent()) ?? ""), "the whole answer comes when it rests", 60_000);
  assert.match((await part.locator(".slip-verdict").textContent()) ?? "", /stands|falls|undecided/);
  await world.shot(page, "walked");
  // a block gone from the middle of an arch: it does not stand
  const blocks = await page.evaluate(async () => [...new Uint8Array(await (await fetch("/api/view/blocks")).arrayBuffer())]);
  const bytes = Buffer.from(blocks);
  const head = JSON.parse(bytes.subarray(8, 8 + bytes.readUInt32LE(4)).toString());
  const gone = head.blocks.filter((b) => !b.fixed)[3].id;
  await part.locator("summary", { hasText: "Blocks" }).click();
  await part.getByLabel("or by its name").fill(gone);
  await part.getByLabel("or by its name").press("Enter");
  await until(async () => /falls/.test((await part.locator(".slip-verdict").textContent()) ?? ""), "without a block it falls", 60_000);
  await world.shot(page, "block-away");
  await button(page, "put everything back").click();
  const after = await lodge.json("/api/state");
  assert.equal(after.revision, before.revision, "asking changed the brief");
  nothingWrong(wrong);
}

export async function goesAlongTheLife(world) {
  const lodge = await world.lodge();
  const { page, wrong } = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  for (const kind of ["drawn", "shaped", "cut"]) {
    await goTo(page, kind);
    await world.shot(page, kind);
  }
  await goTo(page, "footings");
  const begun = Date.now();
  await button(page, "work out the whole").click();
  const state = await lodge.fresh("whole", 480_000);
  assert.equal(state.parts.whole.failed, "");
  world.notes.push(`the whole in ${((Date.now() - begun) / 1000).toFixed(1)} s`);
  await until(async () => (await page.locator('#life [data-kind="stage"]').count()) > 1, "stones of the stages");
  const caption = page.locator("#caption .moment");
  const seen = new Set();
  await page.locator('#life [data-kind="stage"]').first().focus();
  await goTo(page, "stage");
  for (let i = 0; i < 200; ++i) {
    seen.add(await caption.textContent());
    if ((await page.locator('#life [data-kind="taken down"][aria-current="step"]').count()) > 0) break;
    await page.keyboard.press("ArrowRight");
  }
  assert.ok([...seen].some((says) => /^Stage 1 of \d+/.test(says ?? "")), "the first stage is told");
  assert.ok([...seen].some((says) => /^Struck/.test(says ?? "")), "striking is passed");
  assert.ok(seen.size > 20, `only ${seen.size} moments`);
  world.notes.push(`${seen.size} moments`);
  for (const kind of ["printed", "footings", "closed", "walked"]) {
    await goTo(page, kind);
    await page.waitForTimeout(700);
    await world.shot(page, kind);
  }
  nothingWrong(wrong);
}

export async function cutsAJoint(world) {
  const lodge = await world.lodge();
  const { page, wrong } = await openPage(world.browser, lodge.address);
  await lodge.fresh();
  const part = await slip(page, /Cut through it/);
  await part.getByRole("button", { name: "the joint after" }).click();
  await part.locator("svg .slip-thrust").first().waitFor({ timeout: 60_000 });
  const first = await part.getByLabel("Joint", { exact: true }).inputValue();
  const force = /Thrust, square to the joint\s*([\d.]+\s\w+)/.exec((await part.locator("table").first().textContent()) ?? "")?.[1];
  assert.ok(force, "the thrust is given");
  await world.shot(page, "section");
  await part.getByRole("button", { name: "the joint after" }).click();
  await until(async () => (await part.getByLabel("Joint", { exact: true }).inputValue()) !== first, "the next joint");
  nothingWrong(wrong);
}

export async function forEveryone(world) {
  const lodge = await world.lodge();
  const { page, wrong } = await openPage(world.browser, lodge.address, { colorScheme: "dark" });
  await lodge.fresh();
  await slip(page, /Change it/);
  await world.shot(page, "dark");
  const unnamed = await page.evaluate(() =>
    [...document.querySelectorAll("button, input, select, textarea, [role=button]")]
      .filter((e) => e.checkVisibility?.() !== false)
      .filter((e) => !((e.textContent ?? "").trim() || e.getAttribute("aria-label") || e.getAttribute("title") || [...(e.labels ?? [])].some((l) => (l.textContent ?? "").trim())))
      .map((e) => e.outerHTML.slice(0, 120)));
  assert.deepEqual(unnamed, [], "no name for a screen reader");
  assert.equal(await page.locator("html").getAttribute("lang"), "en");
  const verdictColours = await page.evaluate(() => [...document.querySelectorAll("#findings li")].every((li) => li.querySelector('[role="img"][aria-label]') !== null));
  assert.ok(verdictColours, "a sentence's weight is told by more than colour");
  await page.keyboard.press("Escape");
  await page.keyboard.press("Escape");
  // by keys alone: from the top, every control is reached, none holds the focus
  await page.locator("body").focus();
  const reached = new Set();
  for (let i = 0; i < 150; ++i) {
    await page.keyboard.press("Tab");
    reached.add(await page.evaluate(() => document.activeElement?.getAttribute("aria-label") || document.activeElement?.textContent?.trim().slice(0, 40) || document.activeElement?.tagName));
  }
  for (const name of ["Change it", "Try it", "Cut through it"]) assert.ok([...reached].some((r) => r?.startsWith(name)), `${name} is not reached by Tab: ${[...reached].join(" / ")}`);
  await page.keyboard.press("?");
  await page.getByRole("dialog").waitFor();
  await page.keyboard.press("Escape");
  nothingWrong(wrong);
  // 200 % of 1280 by 800 is a window of 640 by 400
  const zoomed = await openPage(world.browser, lodge.address, { viewport: { width: 640, height: 400 }, deviceScaleFactor: 2 });
  await drawn(zoomed.page);
  assert.ok((await layout(zoomed.page)).sideways <= 0, "sideways at 200 %");
  await world.shot(zoomed.page, "zoom-200");
}
