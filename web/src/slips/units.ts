// What is typed into a question, in its unit; the brief's own units are read by the server.

function quantity(text: string, units: Record<string, number>): number | null {
  const match = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z/2°]+)\s*$/.exec(text);
  const factor = match ? units[match[2] ?? ""] : undefined;
  const value = match ? Number(match[1]) : NaN;
  return factor === undefined || !Number.isFinite(value) ? null : value * factor;
}

export const parsePressure = (text: string): number | null => quantity(text, { Pa: 1, kPa: 1e3, MPa: 1e6, "kN/m2": 1e3, "N/m2": 1, psf: 47.880259 });
/** A mass is taken at its weight. */
export const parseForce = (text: string): number | null => quantity(text, { N: 1, kN: 1e3, kg: 9.81, lbf: 4.4482216 });

/** A plain number; an empty text is `ifEmpty`. Null: no number. */
export function parseNumber(text: string, ifEmpty: number | null): number | null {
  const clean = text.trim().replace(/^([+-]?\d*),(\d+)$/, "$1.$2");
  if (clean === "") return ifEmpty;
  return /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(clean) ? Number(clean) : null;
}
