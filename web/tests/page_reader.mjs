// What a screen reader is told: the tree that the browser hands to it.

import assert from "node:assert/strict";

const kControls = new Set(["button", "link", "textbox", "searchbox", "combobox", "checkbox", "radio", "slider", "spinbutton", "switch"]);

/** Roles and names of what is not hidden from it. */
async function told(page) {
  const session = await page.context().newCDPSession(page);
  const { nodes } = await session.send("Accessibility.getFullAXTree");
  await session.detach();
  return nodes.filter((node) => !node.ignored).map((node) => ({ role: node.role?.value ?? "", name: (node.name?.value ?? "").trim(), value: node.value?.value }));
}

export async function readerScenarios({ scenario, open, still }) {
  await scenario("a screen reader is told verdicts, moments, and what each control is", async (page, site) => {
    await open(page, site);
    const first = await told(page);
    const named = (role) => first.filter((node) => node.role === role).map((node) => node.name);
    assert.match(named("image")[0], /^The structure\. weight: stands\. 9 of 9 blocks are there/);
    assert.deepEqual(named("region"), ["What is wrong or near its limit"]);
    const verdicts = named("button").filter((name) => /^(fails|near its limit|not checked|holds) (?!\d)/.test(name));
    assert.deepEqual(verdicts.map((name) => name.match(/^(fails|near its limit|not checked)/)[0]), ["fails", "near its limit", "near its limit", "not checked"]);
    assert.ok(named("button").includes("walked on; something fails here"));
    assert.ok(first.some((node) => node.role === "status"), "what changes is told");
    for (const key of ["c", "t", "x", "o", "e"]) {
      await page.keyboard.press(key);
      await page.locator("#slip h2").waitFor();
      const nameless = (await told(page)).filter((node) => kControls.has(node.role) && node.name === "");
      assert.deepEqual(nameless, [], `slip ${key}`);
      await page.locator("#slip .away").click();
    }
  });
}
