// A server that is gone, or is another one; a change that was not sent; a file that was changed on the disk.

import assert from "node:assert/strict";
import { join } from "node:path";
import { state } from "./sample.mjs";

const kRise = { revision: 1, groups: [{ name: "form", keys: [{ key: "form.rise", text: '"1.8 m"', value: 1.8, unit: "m", meaning: "rise", written: "quantity", given: true }] }] };
const setRise = async (page, text) => {
  await page.getByRole("textbox", { name: "rise" }).fill(text);
  await page.getByRole("textbox", { name: "rise" }).press("Enter");
};

export async function awayScenarios({ scenario, open, pictures }) {
  await scenario("another server: what was in no file is said to be gone, and put back when wanted", async (page, site) => {
    const old = (change) => state({ since: 1000, told: 1, ...change });
    site.json["/api/state"] = old();
    site.json["/api/keys"] = kRise;
    await open(page, site);
    site.replies.set("/api/edit", () => old({ revision: 2, told: 2, saved: false, undo: true }));
    await page.keyboard.press("c");
    await setRise(page, "2 m");
    await page.locator("#header", { hasText: "revision 2, not saved" }).waitFor();
    site.json["/api/state"] = state({ since: 2000, told: 1 });
    site.tell("state", site.json["/api/state"]);
    const bar = page.getByRole("alert").filter({ hasText: "The server was started anew: changes that were in no file are gone" });
    await bar.getByText("Made on this page were: rise 2 m.").waitFor();
    await page.screenshot({ path: join(pictures, "another-server.png") });
    site.replies.set("/api/edit", () => ({ status: 400, body: { faults: [{ key: "form.rise", says: "it is too high" }] } }));
    await bar.getByRole("button", { name: "put them back" }).click();
    const refused = page.getByRole("alert").filter({ hasText: "They were not put back: It is too high." });
    await refused.waitFor();
    site.replies.set("/api/edit", () => state({ since: 2000, told: 2, revision: 2, saved: false, undo: true }));
    await refused.getByRole("button", { name: "try again" }).click();
    await refused.waitFor({ state: "hidden" });
    const sent = site.asked.filter((each) => each.path === "/api/edit").map((each) => each.body);
    assert.deepEqual(sent.at(-1), { revision: 1, changes: [{ key: "form.rise", text: '"2 m"' }] });
  }, { refused: 400 });

  await scenario("what was not sent is marked at its key, listed, and sent when wanted", async (page, site) => {
    site.json["/api/state"] = state({ since: 1000, told: 1 });
    site.json["/api/keys"] = kRise;
    await open(page, site);
    await page.keyboard.press("c");
    await page.route("**/api/edit", (route) => route.abort("connectionrefused"));
    await setRise(page, "1.4 m");
    const rise = page.getByRole("textbox", { name: "rise" });
    const mark = page.locator("#slip .slip-wrong", { hasText: "Not sent: it is not in the brief yet. The server did not answer." });
    await mark.waitFor();
    const bar = page.getByRole("alert").filter({ hasText: "Made on this page and not sent: rise 1.4 m." });
    await bar.waitFor();
    await page.screenshot({ path: join(pictures, "not-sent.png") });
    await rise.blur();
    site.json["/api/keys"] = { ...kRise, revision: 2 };
    site.tell("state", state({ since: 1000, told: 2, revision: 2 })); // changed elsewhere meanwhile
    await page.locator("#header", { hasText: "revision 2" }).waitFor();
    await page.waitForTimeout(300);
    assert.equal(await rise.inputValue(), "1.4 m");
    assert.ok(await mark.isVisible());
    await bar.getByRole("button", { name: "leave them" }).click();
    assert.equal(await rise.inputValue(), "1.8 m");
    assert.ok(!(await mark.isVisible()) && !(await bar.isVisible()));
    await setRise(page, "1.4 m");
    await bar.waitFor();
    await page.unroute("**/api/edit");
    site.replies.set("/api/edit", () => state({ since: 1000, told: 3, revision: 3, saved: false, undo: true }));
    await bar.getByRole("button", { name: "send them" }).click();
    await bar.waitFor({ state: "hidden" });
    assert.ok(!(await mark.isVisible()));
    await page.waitForTimeout(200);
    assert.deepEqual(site.asked.map((each) => each.body), [{ revision: 2, changes: [{ key: "form.rise", text: '"1.4 m"' }] }]);
  });

  await scenario("another server: what was typed while none answered is not lost either", async (page, site) => {
    site.json["/api/state"] = state({ since: 1000, told: 1 });
    site.json["/api/keys"] = kRise;
    await open(page, site);
    await page.keyboard.press("c");
    site.replies.set("/api/edit", () => state({ since: 1000, told: 2, revision: 2, saved: false, undo: true }));
    await setRise(page, "1.6 m");
    await page.locator("#header", { hasText: "revision 2, not saved" }).waitFor();
    await page.route("**/api/edit", (route) => route.abort("connectionrefused"));
    await setRise(page, "1.4 m");
    await page.getByText("Made on this page and not sent: rise 1.4 m.").waitFor();
    await page.unroute("**/api/edit");
    site.json["/api/state"] = state({ since: 2000, told: 1 });
    site.tell("state", site.json["/api/state"]);
    const bar = page.getByRole("alert").filter({ hasText: "The server was started anew: changes that were in no file are gone" });
    await bar.getByText("Made on this page were: rise 1.4 m.").waitFor();
    // and one that this server refuses before the page has seen that it is another
    site.replies.set("/api/edit", () => ({ status: 409, body: { faults: [{ key: "revision", says: "not the newest" }] } }));
    site.json["/api/state"] = state({ since: 3000, told: 1 });
    await setRise(page, "1.3 m");
    await bar.getByText("Made on this page were: rise 1.3 m.").waitFor();
    site.replies.set("/api/edit", () => state({ since: 3000, told: 2, revision: 2, saved: false, undo: true }));
    await bar.getByRole("button", { name: "put them back" }).click();
    await bar.waitFor({ state: "hidden" });
    assert.deepEqual(site.asked.at(-1).body, { revision: 1, changes: [{ key: "form.rise", text: '"1.3 m"' }] });
  }, { refused: 409 });

  await scenario("another server after a save loses nothing, and says no more than that", async (page, site) => {
    site.json["/api/state"] = state({ since: 1000, told: 1, revision: 4 });
    await open(page, site);
    site.tell("state", state({ since: 2000, told: 1 }));
    await page.locator("#note", { hasText: "Nothing was lost" }).waitFor();
    assert.equal(await page.locator(".told-bar:visible").count(), 0);
  });

  await scenario("while the server is gone nothing is said to be worked on", async (page, site) => {
    site.json["/api/state"] = state({ busy: { stage: "form", fraction: 0.4 } });
    await open(page, site);
    await page.locator("#header .stop").waitFor();
    await site.close();
    await page.locator("#gone").waitFor();
    assert.ok(!(await page.locator("#header .stop").isVisible()));
    assert.equal(await page.locator("#header .work").textContent(), "");
  });

  await scenario("a file that was changed on the disk is told of, taken up or left", async (page, site) => {
    site.json["/api/state"] = state({ since: 1000, told: 1, file: "a/b/brief.toml", disk: "changed" });
    await open(page, site);
    const bar = page.getByRole("alert").filter({ hasText: "The file brief.toml was changed on the disk; what is shown is not it." });
    await bar.waitFor();
    await page.screenshot({ path: join(pictures, "disk.png") });
    await bar.getByRole("button", { name: "leave it" }).click();
    await bar.waitFor({ state: "hidden" });
    site.tell("state", state({ since: 1000, told: 2, disk: "same" }));
    site.tell("state", state({ since: 1000, told: 3, file: "a/b/brief.toml", disk: "changed" }));
    site.replies.set("/api/reread", () => state({ since: 1000, told: 4, revision: 2, undo: true, disk: "same" }));
    await bar.getByRole("button", { name: "take it up" }).click();
    await bar.waitFor({ state: "hidden" });
    assert.deepEqual(site.asked.at(-1), { path: "/api/reread", body: { revision: 1 } });
    site.tell("state", state({ since: 1000, told: 5, file: "a/b/brief.toml", disk: "gone" }));
    await page.getByRole("alert").filter({ hasText: "The file brief.toml is no longer on the disk" }).waitFor();
  });
}
