// Numbers and signs of the slips; figures with units as on the rest of the page.

export { figure as figures, kilonewtons, megapascals, millimetres } from "../figures";

export const degrees = (rad: number): string => `${((rad * 180) / Math.PI).toFixed(1)}°`;
export const percent = (share: number): string => `${(share * 100).toFixed(0)} %`;

export type Sign = "falls" | "near" | "holds";
/** A verdict never by colour alone: a sign and the word. */
export const signOf: Record<Sign, string> = { falls: "✕", near: "△", holds: "✓" };
export const signOfVerdict = (verdict: string): Sign => (verdict === "stands" ? "holds" : verdict === "falls" ? "falls" : "near");
/** Demand over limit. */
export const signOfShare = (share: number): Sign => (share > 1 ? "falls" : share >= 0.8 ? "near" : "holds");
