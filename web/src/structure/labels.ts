// Words over the picture, as text of the page: readable at every zoom. The weightier first; one
// that would cover another or lie under a panel stays away.

import { Vector3, type PerspectiveCamera } from "three";
import type { Point } from "../api";
import { clearOf, overlap, type Rect } from "./clear";

export interface Label {
  at: Point;
  text: string;
  look?: "force" | "people" | "measured" | "quiet" | "falls" | "near" | "holds" | "chosen";
  weight?: number; // larger first; 0
}

// On a small picture more than a few would cover what they are about.
const kSmall_px = 760;
const kFew = 5;

export class Labels {
  private panels: readonly Rect[] = [];
  private readonly made: HTMLElement[] = [];
  private list: Label[] = [];
  constructor(private readonly place: HTMLElement) {}
  set(list: Label[]): void {
    this.list = [...list].sort((a, b) => (b.weight ?? 0) - (a.weight ?? 0));
    while (this.made.length < this.list.length) {
      const element = document.createElement("span");
      this.place.append(element);
      this.made.push(element);
    }
    this.made.forEach((element, i) => {
      const label = this.list[i];
      element.hidden = label === undefined;
      element.className = `label ${label?.look ?? "plain"}`;
      if (element.textContent !== (label?.text ?? "")) element.textContent = label?.text ?? "";
    });
  }
  setPanels(panels: readonly Rect[]): void {
    this.panels = panels;
  }
  layOut(camera: PerspectiveCamera, width: number, height: number): void {
    const taken: Rect[] = [];
    const most = Math.min(width, 2 * height) < kSmall_px ? kFew : Infinity;
    const seen = new Vector3();
    this.list.forEach((label, i) => {
      const element = this.made[i] as HTMLElement;
      seen.set(...label.at).project(camera);
      const free = ((seen.x + 1) / 2) * width;
      const y = ((1 - seen.y) / 2) * height;
      const half = label.text.length * 3.6 + 8;
      const off = seen.z > 1 || seen.z < -1 || free < 0 || y < 0 || free > width || y > height || taken.length >= most;
      const x = off ? null : clearOf(free, y, half, 24, width, this.panels);
      const rect = { left: (x ?? 0) - half, top: y - 24, right: (x ?? 0) + half, bottom: y };
      element.hidden = x === null || taken.some((other) => overlap(rect, other));
      if (element.hidden || x === null) return;
      taken.push(rect);
      element.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -100%)`;
    });
  }
}
