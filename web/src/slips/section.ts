// The geometry of a drawn section: its contact rings in the joint's own x and y, metres.

export type Point = readonly [number, number];
export type Ring = readonly Point[];

export interface Bounds {
  x0: number; y0: number; x1: number; y1: number;
}

export function bounds(rings: readonly Ring[]): Bounds | null {
  let b: Bounds | null = null;
  for (const [x, y] of rings.flat()) {
    b = b ? { x0: Math.min(b.x0, x), y0: Math.min(b.y0, y), x1: Math.max(b.x1, x), y1: Math.max(b.y1, y) }
          : { x0: x, y0: y, x1: x, y1: y };
  }
  return b;
}

/** From the lowest to the highest point of the section on the line at x; null where that misses it. */
export function extentAt(rings: readonly Ring[], x: number): [number, number] | null {
  const on: number[] = [];
  for (const ring of rings)
    ring.forEach(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length] ?? [ax, ay];
      if (ax > x !== bx > x) on.push(ay + ((x - ax) / (bx - ax)) * (by - ay));
    });
  return on.length < 2 ? null : [Math.min(...on), Math.max(...on)];
}

export function signedArea(ring: Ring): number {
  let twice = 0;
  ring.forEach(([x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length] ?? [x, y];
    twice += x * v - u * y;
  });
  return twice / 2;
}

export function inside(ring: Ring, [px, py]: Point): boolean {
  let odd = false;
  ring.forEach(([x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length] ?? [x, y];
    if (y > py !== v > py && px < x + ((py - y) / (v - y)) * (u - x)) odd = !odd;
  });
  return odd;
}

export interface Moments {
  area: number;
  centre: Point;
  xx: number; // of x² about the centre
  yy: number;
  xy: number;
}

/** Area, centre and second moments; a ring inside another is a hole, whichever way it runs. */
export function moments(rings: readonly Ring[]): Moments | null {
  let area = 0, sx = 0, sy = 0, xx = 0, yy = 0, xy = 0;
  rings.forEach((ring, i) => {
    const first = ring[0];
    if (!first || ring.length < 3) return;
    const depth = rings.filter((other, j) => j !== i && inside(other, first)).length;
    const sign = (depth % 2 === 0 ? 1 : -1) * (signedArea(ring) < 0 ? -1 : 1);
    ring.forEach(([x, y], k) => {
      const [u, v] = ring[(k + 1) % ring.length] ?? first;
      const c = sign * (x * v - u * y);
      area += c / 2;
      sx += (c * (x + u)) / 6;
      sy += (c * (y + v)) / 6;
      xx += (c * (x * x + x * u + u * u)) / 12;
      yy += (c * (y * y + y * v + v * v)) / 12;
      xy += (c * (x * v + 2 * x * y + 2 * u * v + u * y)) / 24;
    });
  });
  if (!(area > 0)) return null;
  const cx = sx / area, cy = sy / area;
  return { area, centre: [cx, cy], xx: xx - area * cx * cx, yy: yy - area * cy * cy, xy: xy - area * cx * cy };
}

export function hull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((p, q) => p[0] - q[0] || p[1] - q[1]);
  const half = (from: readonly Point[]): Point[] => {
    const out: Point[] = [];
    for (const p of from) {
      for (let a = out.at(-2), b = out.at(-1); a && b && turn(a, b, p) <= 1e-15; a = out.at(-2), b = out.at(-1)) out.pop();
      out.push(p);
    }
    out.pop();
    return out;
  };
  return sorted.length < 3 ? sorted : [...half(sorted), ...half(sorted.reverse())];
}

const turn = (a: Point, b: Point, c: Point): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/**
 * The kern: a force inside it presses the whole section. Each edge of the hull, taken as the line
 * where pressure ends, gives one corner (its antipole). Of a rectangle: the rhombus of the middle thirds.
 */
export function kern(rings: readonly Ring[]): Point[] | null {
  const m = moments(rings);
  if (!m) return null;
  const outline = hull(rings.flat());
  if (outline.length < 3) return null;
  const corners: Point[] = [];
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length] ?? p;
    const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
    if (length < 1e-9) return;
    const nx = (q[1] - p[1]) / length, ny = -(q[0] - p[0]) / length;
    const d = nx * (p[0] - m.centre[0]) + ny * (p[1] - m.centre[1]);
    if (d <= 1e-9) return;
    corners.push([m.centre[0] - (m.xx * nx + m.xy * ny) / (m.area * d), m.centre[1] - (m.xy * nx + m.yy * ny) / (m.area * d)]);
  });
  return corners.length >= 3 ? corners : null;
}

/** A rectangle with sides along x and y, holes aside: then the middle third is drawn by its name. */
export function isRectangle(rings: readonly Ring[]): boolean {
  const b = bounds(rings);
  if (!b) return false;
  const box = (b.x1 - b.x0) * (b.y1 - b.y0);
  return rings.length === 1 && box > 0 && Math.abs(Math.abs(signedArea(rings[0] ?? [])) / box - 1) < 0.01;
}

export interface Plane { // pressure p + px·x + py·y, Pa
  p: number; px: number; py: number;
}
export const pressureAt = (plane: Plane, [x, y]: Point): number => plane.p + plane.px * x + plane.py * y;

/** The part of a ring where the plane presses (Sutherland and Hodgman 1974); edges may run along the cut. */
export function pressed(ring: Ring, plane: Plane): Point[] {
  const out: Point[] = [];
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length] ?? a;
    const pa = pressureAt(plane, a), pb = pressureAt(plane, b);
    if (pa >= 0) out.push(a);
    if (pa >= 0 !== pb >= 0) {
      const t = pa / (pa - pb);
      out.push([a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
    }
  });
  return out;
}

export interface Wedge { // the pressure block seen square to its steepest line
  along: Point; // unit, towards more pressure; along y where the pressure is even
  from: number; to: number; // the section's extent along it, about the frame's origin
  zero: number; // where pressure begins, between from and to
  peak: number; // at `to`
  atFrom: number;
}

export function wedge(rings: readonly Ring[], plane: Plane): Wedge | null {
  const points = rings.flat();
  if (points.length === 0) return null;
  const steep = Math.hypot(plane.px, plane.py);
  const b = bounds(rings);
  const size = b ? Math.max(b.x1 - b.x0, b.y1 - b.y0) : 0;
  const even = steep * size <= 1e-6 * Math.abs(plane.p);
  const along: Point = even ? [0, 1] : [plane.px / steep, plane.py / steep];
  const s = points.map(([x, y]) => x * along[0] + y * along[1]);
  const from = Math.min(...s), to = Math.max(...s);
  const at = (v: number): number => plane.p + (even ? 0 : steep * v);
  if (at(to) <= 0) return null;
  const zero = at(from) >= 0 ? from : -plane.p / steep;
  return { along, from, to, zero, peak: at(to), atFrom: Math.max(0, at(from)) };
}
