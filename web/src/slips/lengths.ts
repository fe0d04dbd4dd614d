// Lengths as a brief writes them, for what is dragged in plan.

const metres: Record<string, number> = {
  m: 1, metre: 1, metres: 1, meter: 1, meters: 1,
  mm: 1e-3, cm: 1e-2, dm: 0.1, km: 1000,
  ft: 0.3048, foot: 0.3048, feet: 0.3048, in: 0.0254, inch: 0.0254, inches: 0.0254,
  yd: 0.9144, yard: 0.9144, yards: 0.9144,
};

export interface Length {
  value_m: number;
  unit: string; // as written
}

/** "1.6 m", "8 ft"; a bare number is no length. Null: a unit that this page does not know. */
export function parseLength(text: string): Length | null {
  const match = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z]+)\s*$/.exec(text);
  if (!match) return null;
  const unit = match[2] ?? "";
  const factor = metres[unit];
  const value = Number(match[1]);
  return factor === undefined || !Number.isFinite(value) ? null : { value_m: value * factor, unit };
}

/** To the millimetre or what is nearest to it, in the unit it was written in. */
export function writeLength(value_m: number, unit: string): string {
  const factor = metres[unit] ?? 1;
  const decimals = Math.max(0, Math.ceil(Math.log10(factor) + 3 - 1e-9));
  const text = (value_m / factor).toFixed(decimals);
  return `${/^-0(\.0*)?$/.test(text) ? text.slice(1) : text} ${metres[unit] === undefined ? "m" : unit}`;
}

export type Nested = string | Nested[];

/** A TOML array of strings, arrays and numbers, comments and trailing commas allowed; null: something else. */
export function parseList(text: string): Nested[] | null {
  let at = 0;
  const skip = (): void => {
    for (;;) {
      while (at < text.length && /\s/.test(text.charAt(at))) at++;
      if (text.charAt(at) !== "#") return;
      while (at < text.length && text.charAt(at) !== "\n") at++;
    }
  };
  const list = (depth: number): Nested[] | null => {
    if (depth > 8 || text.charAt(at) !== "[") return null;
    at++;
    const items: Nested[] = [];
    for (;;) {
      skip();
      if (text.charAt(at) === "]") {
        at++;
        return items;
      }
      const item = one(depth);
      if (item === null) return null;
      items.push(item);
      skip();
      if (text.charAt(at) === ",") at++;
      else if (text.charAt(at) !== "]") return null;
    }
  };
  const one = (depth: number): Nested | null => {
    if (text.charAt(at) === "[") return list(depth + 1);
    const match = /^(?:"([^"\\\n]*)"|'([^'\n]*)'|([^\s,\]#"'[]+))/.exec(text.slice(at));
    if (!match) return null;
    at += match[0].length;
    return match[1] ?? match[2] ?? match[3] ?? "";
  };
  skip();
  const found = list(0);
  if (!found) return null;
  skip();
  return at === text.length ? found : null;
}

export interface PlanPoint {
  at: [number, number];
  units: [string, string];
}

export function asPoint(item: Nested | undefined): PlanPoint | null {
  if (!Array.isArray(item) || item.length !== 2) return null;
  const [x, y] = item;
  if (typeof x !== "string" || typeof y !== "string") return null;
  const a = parseLength(x), b = parseLength(y);
  return a && b ? { at: [a.value_m, b.value_m], units: [a.unit, b.unit] } : null;
}

export function writePoint(at: readonly [number, number], units: readonly [string, string]): string {
  return `["${writeLength(at[0], units[0])}", "${writeLength(at[1], units[1])}"]`;
}
