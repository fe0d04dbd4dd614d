// Starts `skewback serve` on a copy of an example, asks it things without a browser, opens pages.

import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { request } from "node:http";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

export const kRoot = resolve(import.meta.dirname ?? new URL(".", import.meta.url).pathname, "../..");
const { chromium } = createRequire(join(kRoot, "web/package.json"))("playwright-core");
const kFlags = ["--no-sandbox", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--use-gl=angle", "--use-angle=swiftshader"];
export const kLong_ms = 240_000;

export const openBrowser = () => chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", headless: true, args: kFlags });
export const sleep = (ms) => new Promise((done) => setTimeout(done, ms));

/** Polls until `is` gives something true; its last error or value is said when it never does. */
export async function until(is, what, most_ms = kLong_ms) {
  const end = Date.now() + most_ms;
  let last;
  for (;;) {
    try {
      last = await is();
      if (last) return last;
    } catch (error) {
      last = error;
    }
    if (Date.now() > end) throw new Error(`not within ${most_ms / 1000} s: ${what} (last: ${last instanceof Error ? last.message : JSON.stringify(last)})`);
    await sleep(100);
  }
}

export class Lodge {
  constructor(binary, example = "drovers-hop") {
    this.binary = binary;
    this.folder = mkdtempSync(join(tmpdir(), "lodge-drive-"));
    cpSync(join(kRoot, "examples", example), this.folder, { recursive: true });
    this.brief = join(this.folder, "brief.toml");
    this.said = "";
  }
  async start({ port = 0, more = [] } = {}) {
    this.child = spawn(this.binary, ["serve", this.brief, ...(port === 0 ? [] : ["--port", String(port)]), ...more], { stdio: ["ignore", "pipe", "pipe"] });
    this.said = "";
    const end = new Promise((_, no) => this.child.once("exit", (code) => no(new Error(`serve ended with ${code}: ${this.said}`))));
    end.catch(() => undefined);
    const hear = (data) => (this.said += data);
    this.child.stdout.on("data", hear);
    this.child.stderr.on("data", hear);
    const heard = until(() => /http:\/\/[^\s/]+:\d+/.exec(this.said)?.[0], "serve tells its address", 60_000);
    this.address = await Promise.race([heard, end]);
    this.port = Number(new URL(this.address).port);
    return this;
  }
  /** "SIGKILL" takes the server away as a crash would. */
  stop(signal = "SIGTERM") {
    const child = this.child;
    if (child === undefined || child.exitCode !== null || child.signalCode !== null) return Promise.resolve();
    return new Promise((done) => {
      child.once("exit", done);
      child.kill(signal);
      setTimeout(() => child.kill("SIGKILL"), 20_000).unref();
    });
  }
  async clear() {
    await this.stop();
    rmSync(this.folder, { recursive: true, force: true });
  }
  text() {
    return readFileSync(this.brief, "utf8");
  }

  async token() {
    return /name="lodge-token" content="([^"]*)"/.exec(await (await fetch(this.address + "/")).text())?.[1] ?? "";
  }
  async json(path) {
    const reply = await fetch(this.address + path);
    if (!reply.ok) throw new Error(`${path}: ${reply.status} ${await reply.text()}`);
    return reply.json();
  }
  async post(path, body) {
    const reply = await fetch(this.address + path, { method: "POST", headers: { "Content-Type": "application/json", "X-Lodge-Token": await this.token() }, body: JSON.stringify(body) });
    return { status: reply.status, body: await reply.json().catch(() => null) };
  }
  /** With heads as they are given, Host too; the status and the text. */
  raw(method, path, headers = {}, body = "") {
    return new Promise((done, failed) => {
      const asked = request({ host: "127.0.0.1", port: this.port, method, path, headers: { Connection: "close", ...headers } }, (reply) => {
        let text = "";
        reply.on("data", (data) => (text += data));
        reply.on("end", () => done({ status: reply.statusCode, text, headers: reply.headers }));
        reply.on("error", failed);
      });
      // a server that refuses before it has read all may close under what is still being sent
      asked.on("error", (error) => (error.code === "EPIPE" || error.code === "ECONNRESET" ? setTimeout(() => done({ status: 0, text: "", headers: {} }), 1000) : failed(error)));
      asked.end(body);
    });
  }
  /** Until the part is of the newest revision and nothing is worked on. */
  fresh(part = "proof", most_ms = kLong_ms) {
    return until(async () => {
      const state = await this.json("/api/state");
      const known = state.parts[part];
      return (known.fresh || known.failed !== "") && state.busy === null ? state : null;
    }, `${part} is fresh`, most_ms);
  }
  async proof(query = "") {
    const bytes = Buffer.from(await (await fetch(this.address + "/api/view/proof" + query)).arrayBuffer());
    if (bytes.subarray(0, 4).toString() !== "SKB1") throw new Error(bytes.toString().slice(0, 200));
    return JSON.parse(bytes.subarray(8, 8 + bytes.readUInt32LE(4)).toString());
  }
}

/** A page of the lodge, drawn; what the browser found wrong is kept in `wrong`. */
export async function openPage(browser, address, options = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
  const page = await context.newPage();
  const wrong = [];
  const asked = [];
  page.on("pageerror", (error) => wrong.push(error.message));
  // a view that is not worked out yet is a 404 with its reason, which the browser notes
  const early = (message) => /status of 404/.test(message.text()) && message.location().url.includes("/api/view/");
  page.on("console", (message) => message.type() === "error" && !early(message) && wrong.push(`${message.text()} ${message.location().url}`));
  page.on("request", (one) => asked.push(one.url()));
  await page.goto(address);
  if (!address.endsWith("/site")) await drawn(page);
  return { page, context, wrong, asked };
}
/** Until something was drawn (or the browser cannot: then the page says so and this fails). */
export async function drawn(page) {
  await page.waitForFunction(() => Number(document.documentElement.dataset["drawn"] ?? 0) > 0, undefined, { timeout: 60_000 });
}
export const button = (page, name) => page.getByRole("button", { name, exact: true });
export async function slip(page, title) {
  const open = page.locator("#slip-buttons").getByRole("button", { name: title });
  if ((await open.getAttribute("aria-expanded")) !== "true") await open.click();
  return page.locator("#slip");
}
