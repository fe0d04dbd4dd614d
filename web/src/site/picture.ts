// The bridge in outline with one block filled: from above, and square to the block's arm.

import { svg } from "./dom";
import type { DayBlock, Drawn, Picture } from "./types";

export type Role = "this" | "beside" | "placed" | "ground" | "other";

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Around everything, with a margin; y upwards is turned downwards, as in SVG. */
export function boxOf(blocks: Drawn[]): Box {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const block of blocks)
    for (const ring of block.rings)
      for (const [x, y] of ring) {
        left = Math.min(left, x);
        right = Math.max(right, x);
        low = Math.min(low, y);
        high = Math.max(high, y);
      }
  if (left > right) return { x: 0, y: 0, width: 1, height: 1 };
  const margin = 0.02 * Math.max(right - left, high - low, 0.1);
  return { x: left - margin, y: -high - margin, width: right - left + 2 * margin, height: high - low + 2 * margin };
}

export function pathOf(block: Drawn): string {
  const round = (v: number): string => String(Math.round(1000 * v) / 1000);
  return block.rings.map((ring) => "M" + ring.map(([x, y]) => `${round(x)} ${round(-y)}`).join("L") + "Z").join("");
}

/** The first side that shows it. */
export function sideWith(picture: Picture, id: string): Picture["sides"][number] | null {
  return picture.sides.find((side) => side.blocks.some((b) => b.id === id)) ?? null;
}

export function roleOf(drawn: Drawn, id: string, beside: string[], blocks: Map<string, DayBlock>): Role {
  if (drawn.id === id) return "this";
  if (beside.includes(drawn.id)) return "beside";
  if (drawn.ground) return "ground";
  return blocks.get(drawn.id)?.standing === "placed" ? "placed" : "other";
}

const kOver: Role[] = ["ground", "other", "placed", "beside", "this"];

/** `blocks`, the farthest first; what matters is drawn last, so that nothing hides it. */
export function drawing(blocks: Drawn[], role: (block: Drawn) => Role, title: string): SVGElement {
  const box = boxOf(blocks);
  const ordered = [...blocks].sort((a, b) => kOver.indexOf(role(a)) - kOver.indexOf(role(b)));
  const parts = ordered.map((b) => svg("path", { d: pathOf(b), class: `drawn ${role(b)}`, "data-block": b.id }));
  const text = svg("title", {}, title);
  return svg("svg", { viewBox: `${box.x} ${box.y} ${box.width} ${box.height}`, role: "img", "aria-label": title, class: "drawing" }, text, ...parts);
}

/** Where nothing has been cut yet: a square of 0.4 m at each centre of gravity of the plan. */
export function dots(blocks: DayBlock[]): Picture {
  const at = (x: number, y: number): [number, number][] => [[x - 0.2, y - 0.2], [x + 0.2, y - 0.2], [x + 0.2, y + 0.2], [x - 0.2, y + 0.2]];
  const wide = along(blocks);
  return {
    plan: blocks.map((b) => ({ id: b.id, ground: false, rings: [at(b.centre_m[0], b.centre_m[1])] })),
    sides: [{ title: "", blocks: blocks.map((b) => ({ id: b.id, ground: false, rings: [at(wide(b), b.centre_m[2])] })) }],
  };
}

/** Position along the direction in plan in which the centres lie farthest apart. */
function along(blocks: DayBlock[]): (block: DayBlock) => number {
  const n = Math.max(1, blocks.length);
  const mx = blocks.reduce((s, b) => s + b.centre_m[0], 0) / n;
  const my = blocks.reduce((s, b) => s + b.centre_m[1], 0) / n;
  let [xx, yy, xy] = [0, 0, 0];
  for (const b of blocks) {
    const [x, y] = [b.centre_m[0] - mx, b.centre_m[1] - my];
    xx += x * x;
    yy += y * y;
    xy += x * y;
  }
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  return (b) => (b.centre_m[0] - mx) * Math.cos(angle) + (b.centre_m[1] - my) * Math.sin(angle);
}
