import { afterEach, describe, expect, it, vi } from "vitest";
import { Refused, serverSource } from "./source";

/** A server with one token; what it was asked is kept. */
function server(page: string, right: string) {
  const asked: { path: string; token: string | undefined }[] = [];
  vi.stubGlobal("fetch", (path: string, init?: RequestInit) => {
    const token = (init?.headers as Record<string, string> | undefined)?.["X-Lodge-Token"];
    asked.push({ path, token });
    if (path === "/") return Promise.resolve(new Response(page));
    if (init?.method === "POST" && token !== right) return Promise.resolve(new Response(JSON.stringify({ faults: [{ says: "needs the token" }] }), { status: 403 }));
    return Promise.resolve(new Response(JSON.stringify({ revision: 2 })));
  });
  return asked;
}
const page = (token: string): string => `<head><meta name="lodge-token" content="${token}"></head>`;
afterEach(() => vi.unstubAllGlobals());

describe("a server that was started anew has another token", () => {
  it("which its page tells, and the change is sent once more", async () => {
    const asked = server(page("new"), "new");
    const source = serverSource("old");
    expect(await source.json("/api/edit", { revision: 1 })).toEqual({ revision: 2 });
    expect(asked).toEqual([{ path: "/api/edit", token: "old" }, { path: "/", token: undefined }, { path: "/api/edit", token: "new" }]);
    await source.json("/api/undo", {});
    expect(asked.at(-1)).toEqual({ path: "/api/undo", token: "new" });
  });
  it("once only: a refusal for another reason stays one", async () => {
    for (const told of [page("old"), page("{{TOKEN}}"), page("also wrong"), "no page"]) {
      const asked = server(told, "right");
      await expect(serverSource("old").json("/api/edit", {})).rejects.toBeInstanceOf(Refused);
      expect(asked.filter((each) => each.path === "/api/edit").length).toBeLessThanOrEqual(2);
    }
  });
  it("and reading asks for no page", async () => {
    const asked = server(page("new"), "new");
    await serverSource("old").json("/api/state");
    expect(asked.map((each) => each.path)).toEqual(["/api/state"]);
  });
});
