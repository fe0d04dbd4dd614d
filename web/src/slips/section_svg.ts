// The section as a drawing to scale, and below it the pressure block seen square to its steepest line.

import { svg } from "./dom";
import { bounds, type Point, type Ring } from "./section";
import type { JointShape, Section } from "./section_drawing";
import { degrees, kilonewtons, megapascals, millimetres } from "./say";

const kWidth = 320;
const kMargin = 14;
const kTall = 190; // most, of the section itself

interface View {
  px: (p: Point) => Point;
  scale: number;
  height: number;
}

function viewOf(rings: readonly Ring[]): View | null {
  const b = bounds(rings);
  if (!b || b.x1 <= b.x0 || b.y1 <= b.y0) return null;
  const scale = Math.min((kWidth - 2 * kMargin) / (b.x1 - b.x0), kTall / (b.y1 - b.y0));
  const left = (kWidth - scale * (b.x1 - b.x0)) / 2;
  const height = scale * (b.y1 - b.y0);
  return { scale, height, px: ([x, y]) => [left + scale * (x - b.x0), kMargin + scale * (b.y1 - y)] };
}

const path = (view: View, rings: readonly (readonly Point[])[]): string =>
  rings.map((ring) => `M${ring.map((p) => view.px(p).map((v) => v.toFixed(2)).join(" ")).join("L")}Z`).join("");

/** What the drawing shows, in a sentence, for those who do not see it. */
export function describe(joint: JointShape, s: Section): string {
  const parts = [`Section through the joint between ${joint.a} and ${joint.b}.`];
  if (s.thrust && s.depthShare !== null)
    parts.push(`The thrust of ${kilonewtons(s.normal_n)} goes through at ${(s.depthShare * 100).toFixed(0)} % of the depth there, from below, ${s.thrustHolds}.`);
  else parts.push("No force crosses.");
  if (s.wedge) parts.push(`The pressure is greatest at one edge, ${megapascals(s.wedge.peak)}${s.wedge.zero > s.wedge.from ? ", and part of the joint bears nothing" : ""}.`);
  return parts.join(" ");
}

export function drawSection(joint: JointShape, s: Section): SVGSVGElement | null {
  const view = viewOf(s.rings);
  if (!view) return null;
  const top = view.height + 2 * kMargin;
  const block = s.wedge ? 100 : 0;
  const height = top + 20 + block;
  const picture = svg("svg", { class: "slip-section", viewBox: `0 0 ${kWidth} ${height.toFixed(0)}`, role: "img", "aria-label": describe(joint, s) });
  picture.append(
    svg("defs", {}, svg("pattern", { id: "slip-hatch", width: 6, height: 6, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
      svg("line", { class: "slip-hatch", x1: 0, y1: 0, x2: 0, y2: 6 }))),
    svg("path", { class: "slip-contact", d: path(view, s.rings), "fill-rule": "evenodd" }),
  );
  if (s.compressed.length > 0) picture.append(svg("path", { class: "slip-pressed", d: path(view, s.compressed), "fill-rule": "evenodd", fill: "url(#slip-hatch)" }));
  if (s.kern) picture.append(svg("path", { class: "slip-kern", d: path(view, [s.kern]) }));
  for (const pad of s.pads) {
    const [x, y] = view.px(pad.at);
    picture.append(svg("circle", { class: "slip-pad", cx: x.toFixed(1), cy: y.toFixed(1), r: (0.6 + 2.4 * Math.sqrt(pad.share)).toFixed(2) }));
  }
  picture.append(...neutral(view, s), ...thrustMark(view, s), ...ruler(view, top, s));
  if (s.wedge) picture.append(...pressureBlock(s, top + 30, block - 34));
  return picture;
}

function neutral(view: View, s: Section): SVGElement[] {
  if (!s.neutral) return [];
  const [a, b] = s.neutral.map((p) => view.px(p)) as [Point, Point];
  return [svg("line", { class: "slip-neutral", x1: a[0], y1: a[1], x2: b[0], y2: b[1] })];
}

function thrustMark(view: View, s: Section): SVGElement[] {
  if (!s.thrust) return [];
  const [x, y] = view.px(s.thrust);
  const inView = x > 4 && x < kWidth - 4 && y > 4 && y < view.height + 2 * kMargin - 4;
  const cx = Math.min(kWidth - 6, Math.max(6, x)), cy = Math.min(view.height + 2 * kMargin - 6, Math.max(6, y));
  return [svg("g", { class: inView ? "slip-thrust" : "slip-thrust off" },
    svg("circle", { cx, cy, r: 5 }), svg("line", { x1: cx - 9, y1: cy, x2: cx + 9, y2: cy }), svg("line", { x1: cx, y1: cy - 9, x2: cx, y2: cy + 9 }))];
}

/** A scale bar of a round length, and the depth without what stands along the edges. */
function ruler(view: View, y: number, s: Section): SVGElement[] {
  const metres = [0.05, 0.1, 0.2, 0.5, 1, 2].filter((m) => m * view.scale <= 110).at(-1) ?? 0.05;
  const x1 = kMargin + metres * view.scale;
  return [
    svg("path", { class: "slip-rule", d: `M${kMargin} ${y - 3}v6M${kMargin} ${y}H${x1.toFixed(1)}m0 -3v6` }),
    svg("text", { class: "slip-small", x: x1 + 5, y: y + 4, text: metres < 1 ? `${(metres * 1000).toFixed(0)} mm` : `${metres} m` }),
    svg("text", { class: "slip-small", x: kWidth - kMargin, y: y + 4, "text-anchor": "end", text: `${millimetres(s.depth_m)} deep` }),
  ];
}

function pressureBlock(s: Section, top: number, tall: number): SVGElement[] {
  const w = s.wedge;
  if (!w) return [];
  const left = kMargin + 4, right = kWidth - kMargin - 76;
  const x = (v: number): number => left + ((right - left) * (v - w.from)) / (w.to - w.from || 1);
  const foot = top + tall;
  const y = (pa: number): number => foot - (tall * pa) / w.peak;
  const shape = `M${x(w.zero).toFixed(1)} ${foot}L${x(w.to).toFixed(1)} ${foot}L${x(w.to).toFixed(1)} ${y(w.peak).toFixed(1)}L${x(w.zero).toFixed(1)} ${y(w.atFrom).toFixed(1)}Z`;
  const parts: SVGElement[] = [
    svg("path", { class: "slip-wedge", d: shape, fill: "url(#slip-hatch)" }),
    svg("line", { class: "slip-base", x1: x(w.from), y1: foot, x2: x(w.to), y2: foot }),
    svg("text", { class: "slip-figure", x: x(w.to) + 6, y: y(w.peak) + 10, text: megapascals(w.peak) }),
    svg("text", { class: "slip-small", x: left, y: foot + 14, text: edgeName(w.along, false) }),
    svg("text", { class: "slip-small", x: right, y: foot + 14, "text-anchor": "end", text: edgeName(w.along, true) }),
  ];
  if (s.thrust) {
    const at = x(s.thrust[0] * w.along[0] + s.thrust[1] * w.along[1]);
    const shown = Math.min(right + 4, Math.max(left - 4, at));
    parts.push(svg("path", { class: "slip-arrow", d: `M${shown.toFixed(1)} ${top - 8}V${foot - 1}m-4 -8l4 8l4 -8` }));
  }
  return parts;
}

/** y climbs most steeply in the joint's plane: its end is the upper edge (the extrados). */
function edgeName([x, y]: Point, end: boolean): string {
  const up = end ? y : -y, right = end ? x : -x;
  if (Math.abs(y) >= Math.abs(x)) return up > 0 ? "extrados" : "intrados";
  return right > 0 ? "right end" : "left end";
}

/** The force beside the joint's normal, and the cone that friction allows. */
export function drawAngle(s: Section): SVGSVGElement | null {
  if (s.angle_rad === null) return null;
  const angle = Math.min(s.angle_rad, 1.5), cone = Math.min(s.frictionAngle_rad, 1.5);
  const ray = (a: number, r: number): string => `${(80 + r * Math.sin(a)).toFixed(1)} ${(78 - r * Math.cos(a)).toFixed(1)}`;
  return svg("svg", { class: "slip-angle", viewBox: "0 0 320 84", role: "img",
    "aria-label": `The force leans ${degrees(s.angle_rad)} from the joint's normal; friction holds up to ${degrees(s.frictionAngle_rad)}.` },
    svg("path", { class: "slip-cone", d: `M80 78L${ray(-cone, 70)}A70 70 0 0 1 ${ray(cone, 70)}Z` }),
    svg("line", { class: "slip-base", x1: 20, y1: 78, x2: 140, y2: 78 }),
    svg("line", { class: "slip-neutral", x1: 80, y1: 78, x2: 80, y2: 2 }),
    svg("path", { class: "slip-arrow", d: `M80 78L${ray(angle, 66)}` }),
    svg("text", { class: "slip-figure", x: 168, y: 36, text: `leans ${degrees(s.angle_rad)}` }),
    svg("text", { class: "slip-small", x: 168, y: 54, text: `friction holds to ${degrees(s.frictionAngle_rad)}` }),
  );
}
