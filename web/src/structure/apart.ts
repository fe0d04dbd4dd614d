// Marks that would lie on one another on the screen, moved apart: the first keeps its place.

export type Spot = readonly [number, number];

export function apart(spots: readonly Spot[], least: number): Spot[] {
  const put: Spot[] = [];
  for (const spot of spots) {
    let [x, y] = spot;
    for (let turn = 0; turn < 6; ++turn) {
      const other = put.find((p) => Math.hypot(p[0] - x, p[1] - y) < least - 1e-6);
      if (other === undefined) break;
      const d = Math.hypot(x - other[0], y - other[1]);
      const [ux, uy] = d < 1e-6 ? [0, 1] : [(x - other[0]) / d, (y - other[1]) / d];
      [x, y] = [other[0] + ux * least, other[1] + uy * least];
    }
    put.push([x, y]);
  }
  return put;
}
