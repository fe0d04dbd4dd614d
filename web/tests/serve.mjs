// A small server of files for tests of the page: built page, sheaves and lists from a folder, and
// server events that a test can send. It knows nothing of bridges.

import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { existsSync } from "node:fs";
import { extname, join, normalize, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "vite";

const here = fileURLToPath(new URL(".", import.meta.url));
export const kWeb = resolve(here, "..");
const kTypes = { ".html": "text/html; charset=utf-8", ".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml" };

/** Builds the page into `out` (the phone's page only where it is there). */
export async function buildPage(out) {
  const input = { index: join(kWeb, "src/index.html") };
  if (existsSync(join(kWeb, "src/site.html"))) input.site = join(kWeb, "src/site.html");
  const names = { entryFileNames: "assets/[name].js", chunkFileNames: "assets/[name].js", assetFileNames: "assets/[name][extname]" };
  await build({
    configFile: false, root: join(kWeb, "src"), base: "./", logLevel: "warn",
    build: { outDir: out, emptyOutDir: true, modulePreload: false, chunkSizeWarningLimit: 900, rollupOptions: { input, output: names } },
  });
  return out;
}
export async function buildView(out) {
  await build({ configFile: join(kWeb, "vite.view.config.ts"), logLevel: "warn", build: { outDir: out, emptyOutDir: true } });
  return out;
}

/** `samples`: folder of NAME.skb, or a map from "NAME?query" or "NAME" to bytes; `json`: by path. */
export async function serve({ dist, samples = null, views = new Map(), json = {}, port = 0, token = "secret" }) {
  const streams = new Set();
  const asked = [];
  const replies = new Map();
  const viewBytes = async (name, query) => {
    const found = views.get(name + query) ?? views.get(name);
    if (found) return Buffer.from(found);
    if (samples === null) return null;
    const part = new URLSearchParams(query).values().next().value;
    const own = part === undefined ? "" : join(samples, name, part.replace(/[^\w-]/g, "") + ".skb");
    if (own !== "" && existsSync(own)) return readFile(own);
    const file = join(samples, name + ".skb");
    return existsSync(file) ? readFile(file) : null;
  };
  const listOf = async (path) => {
    if (path in json) return json[path];
    const file = samples === null ? "" : join(samples, path.replace("/api/", "") + ".json");
    return file !== "" && existsSync(file) ? JSON.parse(await readFile(file, "utf8")) : null;
  };
  const send = (reply, status, type, body) => {
    reply.writeHead(status, { "Content-Type": type, "Content-Security-Policy": "default-src 'self'; frame-ancestors 'none'" });
    reply.end(body);
  };
  const refuse = (reply, status, says) => send(reply, status, "application/json", JSON.stringify({ faults: [{ says }] }));

  const answer = async (request, reply) => {
    const url = new URL(request.url, "http://x");
    const path = decodeURIComponent(url.pathname);
    if (path === "/api/events") {
      reply.writeHead(200, { "Content-Type": "text/event-stream" });
      reply.write(": here\n\n");
      streams.add(reply);
      request.on("close", () => streams.delete(reply));
      return;
    }
    if (request.method === "POST") {
      let text = "";
      for await (const piece of request) text += piece;
      const body = text === "" ? null : JSON.parse(text);
      asked.push({ path, body });
      if (request.headers["x-lodge-token"] !== token) return refuse(reply, 403, "no token");
      const made = replies.get(path);
      if (made === undefined) return refuse(reply, 404, "nothing there");
      const told = await made(body);
      return Buffer.isBuffer(told) ? send(reply, 200, "application/octet-stream", told) : send(reply, told.status ?? 200, "application/json", JSON.stringify(told.body ?? told));
    }
    if (path.startsWith("/api/view/")) {
      const bytes = await viewBytes(path.slice(10), url.search);
      return bytes === null ? refuse(reply, 404, "not worked out yet") : send(reply, 200, "application/octet-stream", bytes);
    }
    if (path.startsWith("/api/")) {
      const told = await listOf(path);
      return told === null ? refuse(reply, 404, "nothing there") : send(reply, 200, "application/json", JSON.stringify(told));
    }
    const file = normalize(join(dist, path === "/" ? "index.html" : path === "/site" ? "site.html" : path));
    if (!file.startsWith(dist) || !existsSync(file)) return refuse(reply, 404, "no such part");
    let body = await readFile(file);
    if (extname(file) === ".html") body = String(body).replace("<head>", `<head><meta name="lodge-token" content="${token}">`);
    return send(reply, 200, kTypes[extname(file)] ?? "application/octet-stream", body);
  };
  const server = createServer((request, reply) => void answer(request, reply).catch((error) => refuse(reply, 500, String(error))));
  await new Promise((done) => server.listen(port, "127.0.0.1", done));
  return {
    address: `http://127.0.0.1:${server.address().port}/`,
    port: server.address().port,
    asked, json, views, replies,
    tell: (name, data) => streams.forEach((stream) => stream.write(`event: ${name}\ndata: ${JSON.stringify(data)}\n\n`)),
    close: () =>
      new Promise((done) => {
        streams.forEach((stream) => stream.destroy());
        server.close(done);
        server.closeAllConnections();
      }),
  };
}

export const kChromium = {
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  headless: true,
  args: ["--no-sandbox", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--use-gl=angle", "--use-angle=swiftshader"],
};
