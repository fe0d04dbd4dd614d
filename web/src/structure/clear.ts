// Where words over the picture may stand: within it, and clear of the panels that lie over it.

export interface Rect {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

export const overlap = (a: Rect, b: Rect): boolean => a.left < b.right && a.right > b.left && a.top < b.bottom && a.bottom > b.top;

/** The middle of a label of that size over (x, y), pushed sideways off the panels; null: its place is under one,
 *  or the label would have to go farther than its own half. */
export function clearOf(x: number, y: number, half: number, high: number, width: number, panels: readonly Rect[]): number | null {
  if (panels.some((p) => x >= p.left && x <= p.right && y >= p.top && y <= p.bottom)) return null;
  let [low, most] = [half, width - half];
  for (const p of panels) {
    if (p.top >= y || p.bottom <= y - high) continue;
    if (p.right <= x) low = Math.max(low, p.right + half);
    else if (p.left >= x) most = Math.min(most, p.left - half);
    else return null; // straight over the place
  }
  return low > most ? null : Math.max(low, Math.min(most, x));
}
