// What a key's text in the brief looks like in a field, and back: TOML outside, plain words inside.

import type { Key } from "../api";

export type Written = Key["written"];

const simpleString = /^"([^"\\]*)"$|^'([^']*)'$/;

/** `"1.6 m"` is shown as `1.6 m`; lists and flags as they stand. */
export function toField(text: string): string {
  const match = simpleString.exec(text.trim());
  return match ? (match[1] ?? match[2] ?? "") : text.trim();
}

/** The TOML for what was typed. An empty field takes the key out of the brief. */
export function toToml(typed: string, written: Written): string {
  const text = typed.trim();
  if (text === "") return "";
  if (written === "quantity") return simpleString.test(text) ? text : quoted(text);
  if (written === "number" || written === "whole") return text;
  return isTomlValue(text) ? text : quoted(text);
}

export function quoted(text: string): string {
  // TOML forbids control characters inside a basic string
  const safe = text.replace(/[\\"]/g, (c) => `\\${c}`).replace(/[\u0000-\u001f\u007f]/g, " ");
  return `"${safe}"`;
}

function isTomlValue(text: string): boolean {
  return (
    /^(true|false)$/.test(text) ||
    /^[+-]?(\d[\d_]*)(\.\d+)?([eE][+-]?\d+)?$/.test(text) ||
    /^\[[\s\S]*\]$/.test(text) ||
    /^\{[\s\S]*\}$/.test(text) ||
    simpleString.test(text) ||
    /^"(?:[^"\\]|\\.)*"$/.test(text) ||
    /^\d{4}-\d{2}-\d{2}/.test(text)
  );
}

export interface Figure {
  value: number;
  decimals: number;
  rest: string; // unit, with the space before it
}

/** The leading number of "1.60 m"; null for "8 ft 2 in" and for what is no number. */
export function figure(shown: string): Figure | null {
  const match = /^\s*([+-]?(?:\d+\.?\d*|\.\d+))(\s*(?:[^\d\s+.-][^\s]*)?)\s*$/.exec(shown);
  if (!match) return null;
  const number = match[1] ?? "";
  const dot = number.indexOf(".");
  const value = Number(number);
  if (!Number.isFinite(value)) return null;
  return { value, decimals: dot < 0 ? 0 : number.length - dot - 1, rest: match[2] ?? "" };
}

/** 1, 2 or 5 times a power of ten, at most `value`. */
export function step125(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value) + 1e-9);
  const lead = value / power;
  return (lead >= 5 - 1e-9 ? 5 : lead >= 2 - 1e-9 ? 2 : 1) * power;
}

/**
 * The text one nudge up (`by` 1) or down (-1): about a fiftieth of the value, on a round step of 1, 2
 * or 5; `large` ten times that. Whole numbers go by 1 or 10. Null where there is no number to nudge.
 */
export function nudge(shown: string, by: 1 | -1, large: boolean, written: Written): string | null {
  if (written === "other") return null;
  const f = figure(shown);
  if (!f) return null;
  if (written === "whole") return String(Math.round(f.value) + by * (large ? 10 : 1)) + f.rest;
  const size = Math.abs(f.value) > 0 ? Math.abs(f.value) : 10 ** (2 - f.decimals);
  const step = step125(size * 0.02) * (large ? 10 : 1);
  const stepDecimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const at = f.value / step;
  const next = (by > 0 ? Math.floor(at + 1e-9) + 1 : Math.ceil(at - 1e-9) - 1) * step;
  const decimals = Math.max(f.decimals, stepDecimals);
  return (Object.is(next, -0) ? 0 : next).toFixed(decimals) + f.rest;
}
