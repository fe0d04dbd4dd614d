// The forces at one node of the net, drawn as a polygon, with the same numbers in a list.

import { goToSurface } from "../nodes";
import type { Desk } from "../slips";
import { button, el, labelled, svg } from "./dom";
import { readNode, sides, type NodeForces } from "./polygon";
import { readPlace } from "./question";
import { kilonewtons, signOf } from "./say";

const kSide = 220;

export function drawPolygon(node: NodeForces): SVGSVGElement | null {
  const list = sides(node);
  if (list.length < 2) return null;
  const xs = list.flatMap((s) => [s.from[0], s.to[0]]), ys = list.flatMap((s) => [s.from[1], s.to[1]]);
  const x0 = Math.min(...xs), y1 = Math.max(...ys);
  const wide = Math.max(...xs) - x0, tall = y1 - Math.min(...ys);
  const scale = (kSide - 60) / Math.max(wide, tall);
  const px = (p: readonly [number, number]): [number, number] => [(kSide - scale * wide) / 2 + scale * (p[0] - x0), (kSide - scale * tall) / 2 + scale * (y1 - p[1])];
  const picture = svg("svg", { class: "slip-polygon", viewBox: `0 0 ${kSide} ${kSide}`, role: "img",
    "aria-label": `Force polygon of ${list.length} forces in plan; the greatest is ${kilonewtons(Math.max(...list.map((s) => s.size_n)))}.` });
  list.forEach((side, i) => {
    const [ax, ay] = px(side.from), [bx, by] = px(side.to);
    const length = Math.hypot(bx - ax, by - ay) || 1;
    const ux = (bx - ax) / length, uy = (by - ay) / length;
    const barb = (s: number): string => `${(bx - 8 * ux + s * 4 * uy).toFixed(1)} ${(by - 8 * uy - s * 4 * ux).toFixed(1)}`;
    picture.append(
      svg("path", { class: `slip-side is-${side.kind}`, d: `M${ax.toFixed(1)} ${ay.toFixed(1)}L${bx.toFixed(1)} ${by.toFixed(1)}M${barb(1)}L${bx.toFixed(1)} ${by.toFixed(1)}L${barb(-1)}` }),
      svg("text", { class: "slip-small", x: ((ax + bx) / 2 - 11 * uy).toFixed(1), y: ((ay + by) / 2 + 11 * ux + 4).toFixed(1), "text-anchor": "middle", text: String(i + 1) }),
    );
  });
  return picture;
}

export function mountNode(into: HTMLElement, desk: Desk): () => void {
  const { nodes, store, structure } = desk;
  const place = el("input", { type: "text", inputmode: "text", placeholder: "such as 1.2, -0.4", on: { change: () => typed() } });
  const out = el("div", { "aria-live": "polite" });
  const where = el("p", { class: "slip-row" });
  const older = el("p", { class: "is-near", role: "status" });
  /** What was told of an older form is marked until the newest is there. */
  const follow = (): void => {
    const { state, moment } = store.get();
    const { told } = nodes;
    older.textContent = told === null || state === null || told.of === state.revision ? "" : `${signOf.near} These forces are of revision ${told.of ?? "none"}, the brief is at ${state.revision}.`;
    const key = told === null ? "none" : moment === "shaped" ? "here" : "elsewhere";
    if (where.dataset["says"] === key) return;
    where.dataset["says"] = key;
    where.replaceChildren(...(told === null ? [] : [
      el("span", { text: key === "here" ? "The polygon stands in the structure, at its node." : "The polygon stands in the structure at the moment shaped." }),
      ...(key === "here" ? [] : [button("show it there", () => goToSurface(store))]),
      button("take it away", () => nodes.clear()),
    ]));
  };
  const show = (): void => {
    const { told, trouble } = nodes;
    const node = told === null ? null : readNode(told.answer);
    if (told !== null) place.value = `${told.at[0].toFixed(2)}, ${told.at[1].toFixed(2)}`;
    const words = node !== null ? "" : told !== null ? "The answer does not hold the forces of a node." : trouble;
    out.replaceChildren(...(node !== null ? said(node) : words === "" ? [] : [el("p", { class: "slip-quiet", text: words })]));
    follow();
  };
  const typed = (): void => {
    const at = readPlace(place.value);
    if (at) {
      goToSurface(store);
      void nodes.ask(at[0], at[1]);
    } else if (place.value.trim() !== "") out.replaceChildren(el("p", { class: "is-falls", text: "Write the place in plan as two numbers in metres: 1.2, -0.4" }));
  };
  const point = async (): Promise<void> => {
    goToSurface(store);
    store.set({ note: "Press the surface where its forces are wanted." });
    const picked = await structure.pick("surface");
    if (picked) void nodes.ask(picked.at[0], picked.at[1]);
  };
  into.append(el("h3", { text: "Forces at a node" }),
    el("p", { class: "slip-hint", text: "Point at the surface of the form, or press it at the moment shaped: the forces of the node nearest stand there as a polygon." }),
    el("div", { class: "slip-row" }, button("point at a place", () => void point())), labelled("x, y in metres", place), where, older, out);
  const ends = [nodes.subscribe(show), store.watch((now) => now.state, follow), store.watch((now) => now.moment, follow)];
  show();
  return () => {
    for (const end of ends) end();
  };
}

function said(node: NodeForces): HTMLElement[] {
  const drawing = drawPolygon(node);
  const rows = sides(node).map((s, i) => el("tr", {}, el("th", { scope: "row", text: `${i + 1}` }), el("td", { text: s.kind === "edge" ? "neighbour" : s.kind }),
    el("td", { text: kilonewtons(s.size_n) }), el("td", { text: `${s.bearing_deg.toFixed(0)}°` })));
  const parts: HTMLElement[] = [el("p", { text: `Node at x ${node.at[0].toFixed(2)} m, y ${node.at[1].toFixed(2)} m, ${node.at[2].toFixed(2)} m high${node.load_n === null ? "" : `; it bears ${kilonewtons(node.load_n)}`}.` })];
  if (drawing) parts.push(el("figure", { class: "slip-drawing" }, drawing));
  parts.push(el("table", { class: "slip-table" }, el("caption", { text: "In plan, head to tail; bearings counter-clockwise from east" }), el("tbody", {}, ...rows)));
  if (node.closure_rel !== null) parts.push(el("p", { class: "slip-hint", text: `Closes to ${node.closure_rel.toExponential(0)} of the greatest force.` }));
  return parts;
}
