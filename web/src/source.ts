// Where sheaves and lists come from: the server, or what was put into an exported page.

export interface Source {
  /** False in an exported page: nothing can be changed or asked. */
  readonly live: boolean;
  view(name: string, query?: Query, signal?: AbortSignal): Promise<ArrayBuffer>;
  /** `path` as "/api/findings"; with `body` it is posted. */
  json(path: string, body?: unknown, signal?: AbortSignal): Promise<unknown>;
  bytes(path: string, body?: unknown, signal?: AbortSignal): Promise<ArrayBuffer>;
}
export type Query = { [key: string]: string };

export interface Fault {
  says: string;
  key?: string;
  found?: string;
  expected?: string;
  line?: number;
}

const kPlace = /^(?:[^:;]*\/)?([^/:;]+\.toml)(?::(\d+))?(?::\d+)?: /;
const sentence = (text: string): string => text.replace(/^./, (c) => c.toUpperCase()).replace(/([^.!?])$/, "$1.");

/** What is wrong first, then where: the server's words begin with the file. */
export function faultText(fault: Fault): string {
  const place = kPlace.exec(fault.says);
  let says = place === null ? fault.says : fault.says.slice(place[0].length);
  const key = fault.key || (place === null ? "" : (/^([\w.[\]]+): /.exec(says)?.[1] ?? ""));
  if (key !== "" && says.startsWith(`${key}: `)) says = says.slice(key.length + 2);
  const parts = [sentence(says)];
  if (fault.found && !fault.says.includes(fault.found)) parts.push(`Found: ${fault.found}.`);
  if (fault.expected && !fault.says.includes(fault.expected)) parts.push(`Expected: ${fault.expected}.`);
  const file = place?.[2] === undefined ? place?.[1] : `line ${place[2]} of ${place[1]}`;
  const where = [says.includes(key) ? "" : key, file ?? ""].filter((each) => each !== "").join(", ");
  if (where !== "") parts.push(`Where: ${where}.`);
  return parts.join(" ");
}
/** The same of several faults in one text, as a part that did not come out tells them. */
export function failedText(text: string): string {
  return text.split(/; (?=(?:[^:;]*\/)?[^/:;]+\.toml:)/).map((says) => (kPlace.test(says) ? faultText({ says }) : says)).join(" ");
}

/** The server answered, and the answer is no. `status` 0: it did not answer at all. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly faults: Fault[],
  ) {
    super(faults.map(faultText).join(" ") || `refused (${status})`);
  }
}

export function queryText(query: Query | undefined): string {
  const pairs = Object.entries(query ?? {}).filter(([, value]) => value !== "");
  pairs.sort(([a], [b]) => (a < b ? -1 : 1));
  return pairs.length === 0 ? "" : "?" + pairs.map(([key, value]) => `${encodeURIComponent(key)}=${encodeURIComponent(value)}`).join("&");
}

/** From the page's head, or from the fragment `#token=…`, which is then kept for this tab only. */
export function findToken(): string {
  const written = document.querySelector<HTMLMetaElement>('meta[name="lodge-token"]')?.content ?? "";
  if (written !== "" && !written.startsWith("{{")) return written;
  const given = /(?:^#|&)token=([^&]+)/.exec(location.hash)?.[1];
  if (given !== undefined) {
    sessionStorage.setItem("lodge-token", decodeURIComponent(given));
    history.replaceState(null, "", location.pathname + location.search);
  }
  return sessionStorage.getItem("lodge-token") ?? "";
}

/** The token of a server that was started anew; on this machine its page tells it. */
async function tokenNow(): Promise<string> {
  const page = await (await fetch("/", { cache: "no-store" })).text();
  return /<meta name="lodge-token" content="([^"{}<>]*)"/.exec(page)?.[1] ?? "";
}

export function serverSource(first: string): Source {
  let token = first;
  const ask = async (path: string, init: RequestInit): Promise<Response> => {
    let reply: Response;
    try {
      reply = await fetch(path, init);
    } catch (error) {
      if (error instanceof DOMException && error.name === "AbortError") throw error;
      throw new Refused(0, [{ says: "The server does not answer." }]);
    }
    if (!reply.ok) throw new Refused(reply.status, await faultsOf(reply));
    return reply;
  };
  const askAgain = async (path: string, body: unknown, signal: AbortSignal | undefined): Promise<Response> => {
    try {
      return await ask(path, request(body, signal));
    } catch (error) {
      if (body === undefined || !(error instanceof Refused) || error.status !== 403) throw error;
      const now = await tokenNow().catch(() => "");
      if (now === "" || now === token) throw error;
      token = now;
      return ask(path, request(body, signal));
    }
  };
  const request = (body: unknown, signal: AbortSignal | undefined): RequestInit => {
    const heads: Record<string, string> = token === "" ? {} : { "X-Lodge-Token": token };
    const init: RequestInit = { headers: heads, signal: signal ?? null };
    if (body === undefined) return init;
    return { ...init, method: "POST", headers: { ...heads, "Content-Type": "application/json" }, body: JSON.stringify(body) };
  };
  return {
    live: true,
    view: async (name, query, signal) =>
      (await ask(`/api/view/${encodeURIComponent(name)}${queryText(query)}`, request(undefined, signal))).arrayBuffer(),
    json: async (path, body, signal) => (await askAgain(path, body, signal)).json() as Promise<unknown>,
    bytes: async (path, body, signal) => (await askAgain(path, body, signal)).arrayBuffer(),
  };
}

async function faultsOf(reply: Response): Promise<Fault[]> {
  try {
    const told = (await reply.json()) as { faults?: unknown };
    if (Array.isArray(told.faults)) return told.faults as Fault[];
  } catch {
    // an answer that is not JSON says nothing more than its number
  }
  return [{ says: `The server refused with ${reply.status}.` }];
}

/** Reads `<script type="application/octet-stream" data-sheaf="proof?case=dead">BASE64</script>` and
 *  `<script type="application/json" data-json="/api/findings">…</script>` of this page. */
export function pageSource(page: Document): Source {
  return {
    live: false,
    view(name, query) {
      const wanted = name + queryText(query);
      for (const part of page.querySelectorAll<HTMLScriptElement>("script[data-sheaf]"))
        if (part.dataset["sheaf"] === wanted) return unpacked(fromBase64(part.textContent ?? ""), part.dataset["packed"]);
      return Promise.reject(new Refused(404, [{ says: "This is not in the file." }]));
    },
    json(path, body) {
      if (body !== undefined) return Promise.reject(new Refused(403, [{ says: "This file is for viewing only." }]));
      for (const part of page.querySelectorAll<HTMLScriptElement>("script[data-json]"))
        if (part.dataset["json"] === path) return Promise.resolve(JSON.parse(part.textContent ?? "null") as unknown);
      return Promise.reject(new Refused(404, [{ says: "This is not in the file." }]));
    },
    bytes: () => Promise.reject(new Refused(403, [{ says: "This file is for viewing only." }])),
  };
}

/** Bytes as they were before the file was written: gzip taken off, then the four planes put together again. */
async function unpacked(bytes: ArrayBuffer, packing: string | undefined): Promise<ArrayBuffer> {
  if (packing !== "planes gzip") return bytes;
  if (!("DecompressionStream" in globalThis)) throw new Refused(0, [{ says: "This browser is too old to unpack the file: Chromium 80, Firefox 113 or newer can." }]);
  const planes = new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer());
  const out = new Uint8Array(planes.length);
  let at = 0;
  for (let first = 0; first < 4; ++first) for (let i = first; i < out.length; i += 4) out[i] = planes[at++] ?? 0;
  return out.buffer;
}

export function fromBase64(text: string): ArrayBuffer {
  const raw = atob(text.trim());
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; ++i) bytes[i] = raw.charCodeAt(i);
  return bytes.buffer;
}
