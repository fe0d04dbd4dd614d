// Words over the picture, as text of the page: readable at every zoom. The weightier first; one
// that would cover another stays away.

import { Vector3, type PerspectiveCamera } from "three";
import type { Point } from "../api";

export interface Label {
  at: Point;
  text: string;
  look?: "force" | "people" | "measured" | "quiet" | "falls" | "near" | "holds" | "chosen";
  weight?: number; // larger first; 0
}

export class Labels {
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
  layOut(camera: PerspectiveCamera, width: number, height: number): void {
    const taken: [number, number, number, number][] = [];
    const seen = new Vector3();
    this.list.forEach((label, i) => {
      const element = this.made[i] as HTMLElement;
      seen.set(...label.at).project(camera);
      const free = ((seen.x + 1) / 2) * width;
      const y = ((1 - seen.y) / 2) * height;
      const half = label.text.length * 3.6 + 8;
      const x = Math.max(half, Math.min(width - half, free));
      const rect: [number, number, number, number] = [x - half, y - 24, x + half, y];
      const off = seen.z > 1 || seen.z < -1 || free < 0 || y < 0 || free > width || y > height;
      const covered = taken.some((other) => rect[0] < other[2] && rect[2] > other[0] && rect[1] < other[3] && rect[3] > other[1]);
      element.hidden = off || covered;
      if (off || covered) return;
      taken.push(rect);
      element.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -100%)`;
    });
  }
}
