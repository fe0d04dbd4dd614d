// The arch of life as a drawing: a segment of a ring, cut into stones by their widths.

export interface RingSize {
  width: number;
  rise: number; // of the intrados
  depth: number; // of the ring
  margin: number;
}
export interface StoneShape {
  path: string;
  /** Middle of the stone, and how far it leans, in degrees. */
  x: number;
  y: number;
  lean: number;
  /** Angles of its two beds from the vertical, and the ring it is cut from. */
  from: number;
  to: number;
  across: number; // width at mid depth
}
export interface Ring {
  stones: StoneShape[];
  height: number;
  radius: number; // of the intrados
  depth: number;
  cx: number;
  cy: number;
}

/** `widths` before the key, the key's, and after it: each side fills its half of the arch. */
export function cutRing(before: readonly number[], key: number, after: readonly number[], size: RingSize): Ring {
  const half = size.width / 2 - size.margin;
  const radius = (half * half + size.rise * size.rise) / (2 * size.rise);
  const open = Math.asin(Math.min(1, half / (radius + size.depth / 2)));
  const cx = size.width / 2;
  const cy = radius + size.depth;
  const sum = (widths: readonly number[]): number => widths.reduce((a, b) => a + b, 0);
  const most = Math.max(sum(before), sum(after)) + key / 2;
  const keyHalf = most === 0 ? open : (open * key) / 2 / most;
  const angles: number[] = [-open];
  const lay = (widths: readonly number[], from: number, to: number): void => {
    const total = sum(widths);
    let at = from;
    for (const width of widths) angles.push((at += ((to - from) * width) / total));
  };
  lay(before, -open, -keyHalf);
  angles.push(keyHalf);
  lay(after, keyHalf, open);
  const stones = angles.slice(1).map((to, i) => stone(angles[i] as number, to, radius, size.depth, cx, cy));
  return { stones, height: size.depth + radius * (1 - Math.cos(open)) + 2, radius, depth: size.depth, cx, cy };
}

function stone(from: number, to: number, radius: number, depth: number, cx: number, cy: number): StoneShape {
  const outer = radius + depth;
  const at = (angle: number, r: number): string => `${(cx + r * Math.sin(angle)).toFixed(2)} ${(cy - r * Math.cos(angle)).toFixed(2)}`;
  const path =
    `M${at(from, radius)}L${at(from, outer)}A${outer.toFixed(2)} ${outer.toFixed(2)} 0 0 1 ${at(to, outer)}` +
    `L${at(to, radius)}A${radius.toFixed(2)} ${radius.toFixed(2)} 0 0 0 ${at(from, radius)}Z`;
  const mid = (from + to) / 2;
  const r = radius + depth / 2;
  return { path, x: cx + r * Math.sin(mid), y: cy - r * Math.cos(mid), lean: (mid * 180) / Math.PI, from, to, across: (to - from) * r };
}

/** The highest point of the extrados between two places across; smaller is higher. */
export function topBetween(ring: Ring, from: number, to: number): number {
  const x = Math.max(from, Math.min(to, ring.cx)) - ring.cx;
  const outer = ring.radius + ring.depth;
  return ring.cy - Math.sqrt(Math.max(0, outer * outer - x * x));
}

/** How far along a stone a point lies, 0 to 1. */
export function along(shape: StoneShape, ring: Ring, x: number, y: number): number {
  const angle = Math.atan2(x - ring.cx, ring.cy - y);
  return Math.max(0, Math.min(0.999999, (angle - shape.from) / (shape.to - shape.from)));
}
