// Lines of the field on the surface: level lines of phi, and strokes along the flow of weight.

/** Level lines of a number given per corner of each triangle: six numbers a piece, and its level. */
export function levelLines(
  points: Float32Array, triangles: Uint32Array, values: Float32Array, spacing: number,
): { lines: number[]; levels: number[] } {
  const lines: number[] = [];
  const levels: number[] = [];
  for (let t = 0; t < triangles.length / 3; ++t) {
    const v = [values[3 * t] ?? NaN, values[3 * t + 1] ?? NaN, values[3 * t + 2] ?? NaN] as const;
    if (!v.every(Number.isFinite)) continue;
    const least = Math.min(...v);
    const most = Math.max(...v);
    for (let k = Math.ceil(least / spacing); k * spacing <= most; ++k) {
      const level = k * spacing;
      const ends: number[] = [];
      for (let i = 0; i < 3 && ends.length < 6; ++i) {
        const j = (i + 1) % 3;
        const [a, b] = [v[i] as number, v[j] as number];
        if (a === b || (a < level) === (b < level)) continue;
        const s = (level - a) / (b - a);
        const pa = 3 * (triangles[3 * t + i] as number);
        const pb = 3 * (triangles[3 * t + j] as number);
        for (let c = 0; c < 3; ++c) ends.push((points[pa + c] as number) * (1 - s) + (points[pb + c] as number) * s);
      }
      if (ends.length !== 6) continue;
      lines.push(...ends);
      levels.push(level);
    }
  }
  return { lines, levels };
}

/** Strokes along the flow from the middle of every `every`-th triangle; as long as the flow is
 *  strong, at most `longest`. Ends in a barb that points the way the weight goes. */
export function flowStrokes(
  points: Float32Array, triangles: Uint32Array, flow: Float32Array, strength: Float32Array, longest: number, every: number,
): number[] {
  const out: number[] = [];
  const sorted = [...strength].filter(Number.isFinite).sort((a, b) => a - b);
  const strong = sorted[Math.floor(sorted.length * 0.95)] ?? 0;
  if (!(strong > 0)) return out;
  for (let t = 0; t < triangles.length / 3; t += every) {
    const [dx, dy] = [flow[2 * t] ?? 0, flow[2 * t + 1] ?? 0];
    const size = Math.hypot(dx, dy);
    if (!(size > 0)) continue;
    const corner = (i: number, c: number): number => points[3 * (triangles[3 * t + i] as number) + c] as number;
    const mid = [0, 1, 2].map((c) => (corner(0, c) + corner(1, c) + corner(2, c)) / 3) as [number, number, number];
    const [ux, uy] = [dx / size, dy / size];
    const slope = slopeOf([0, 1, 2].map((i) => [corner(i, 0), corner(i, 1), corner(i, 2)]) as [number, number, number][], ux, uy);
    const length = longest * Math.min(1, Math.max(0.15, (strength[t] ?? 0) / strong));
    const at = (s: number, side: number): [number, number, number] => [mid[0] + s * ux - side * uy, mid[1] + s * uy + side * ux, mid[2] + s * slope];
    const tip = at(length / 2, 0);
    out.push(...at(-length / 2, 0), ...tip, ...at(length * 0.25, length * 0.16), ...tip, ...at(length * 0.25, -length * 0.16), ...tip);
  }
  return out;
}
/** Rise of the plane through three points per metre in the direction (ux, uy). */
function slopeOf(p: [number, number, number][], ux: number, uy: number): number {
  const [a, b, c] = p as [[number, number, number], [number, number, number], [number, number, number]];
  const [x1, y1, z1] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [x2, y2, z2] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  const det = x1 * y2 - x2 * y1;
  if (Math.abs(det) < 1e-12) return 0;
  return (ux * (z1 * y2 - z2 * y1) + uy * (x1 * z2 - x2 * z1)) / det;
}
