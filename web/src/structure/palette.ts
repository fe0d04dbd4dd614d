// Colours as the style sheet has them, for light and dark.

import { Color } from "three";

export type ColourName =
  | "ink" | "paper" | "falls" | "near" | "holds" | "force" | "people" | "measured" | "chosen" | "quiet"
  | "stone" | "stone-edge" | "earth" | "timber" | "ramp-low" | "ramp-high";

export class Palette {
  private readonly known = new Map<string, Color>();
  constructor(private readonly root: HTMLElement = document.documentElement) {}
  of(name: ColourName): Color {
    let colour = this.known.get(name);
    if (colour === undefined) {
      const written = getComputedStyle(this.root).getPropertyValue(`--${name}`).trim();
      colour = new Color(written === "" ? "#888888" : written);
      this.known.set(name, colour);
    }
    return colour;
  }
  forget(): void {
    this.known.clear();
  }
}
