// Numbers with units as they are read on site. A figure that is not there is a dash.

const kThin = "\u202f";

/** To three figures, without an exponent. */
export function figure(value: number): string {
  if (!Number.isFinite(value)) return "–";
  if (value === 0) return "0";
  const size = Math.floor(Math.log10(Math.abs(value)));
  const places = Math.max(0, Math.min(6, 2 - size));
  const text = value.toFixed(places);
  return Number(text) === 0 ? "0" : text.replace("-", "\u2212");
}
export function kilonewtons(force_n: number): string {
  return `${figure(force_n / 1000)}${kThin}kN`;
}
export function megapascals(stress_pa: number): string {
  return `${figure(stress_pa / 1e6)}${kThin}MPa`;
}
/** Millimetres to a tenth below 10. */
export function millimetres(length_m: number): string {
  const mm = length_m * 1000;
  if (!Number.isFinite(mm)) return "–";
  const text = Math.abs(mm) < 10 ? mm.toFixed(1) : mm.toFixed(0);
  return `${Number(text) === 0 ? "0" : text.replace("-", "\u2212")}${kThin}mm`;
}
export function metres(length_m: number): string {
  return `${Number.isFinite(length_m) ? length_m.toFixed(2).replace("-", "\u2212") : "–"}${kThin}m`;
}
export function kilograms(mass_kg: number): string {
  return `${Number.isFinite(mass_kg) ? mass_kg.toFixed(0) : "–"}${kThin}kg`;
}
/** "a|b" as it is read. */
export function jointWords(id: string): string {
  return id.replace("|", " | ");
}
/** The largest of 1, 2, 5, 10, 20, … that is not above `value`. */
export function roundBelow(value: number): number {
  if (!(value > 0) || !Number.isFinite(value)) return 1;
  const ten = 10 ** Math.floor(Math.log10(value) + 1e-12);
  const first = value / ten;
  return (first >= 5 - 1e-9 ? 5 : first >= 2 - 1e-9 ? 2 : 1) * ten;
}
