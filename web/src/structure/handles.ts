// Handles over the picture: buttons, so that they can be reached and moved by keys too.

import { Plane, Vector3 } from "three";
import { apart } from "./apart";
import type { Canvas } from "./canvas";
import type { Handle, HandleAsked, Point } from "./structure";

const kApart_px = 22;

export class Handles {
  private readonly all = new Set<{ at: Point; button: HTMLButtonElement }>();
  constructor(
    private readonly place: HTMLElement,
    private readonly canvas: Canvas,
    private readonly deckPoint: (event: { clientX: number; clientY: number }) => Point | null,
    private readonly deckAt: (x: number, y: number) => Point | null,
  ) {
    canvas.onDrawn(() => this.layOut());
  }
  add(asked: HandleAsked): Handle {
    const button = document.createElement("button");
    button.type = "button";
    button.className = `handle ${asked.mark ?? "end"}`;
    button.dataset["says"] = asked.label;
    button.setAttribute("aria-label", `${asked.label}. Arrow keys move it.`);
    const one = { at: asked.at, button };
    this.all.add(one);
    this.place.append(button);
    button.addEventListener("pointerdown", (event) => this.drag(event, one, asked));
    button.addEventListener("keydown", (event) => this.key(event, one, asked));
    this.canvas.ask();
    return {
      moveTo: (at) => {
        one.at = at;
        this.canvas.ask();
      },
      say: (words) => (button.dataset["says"] = words),
      remove: () => {
        this.all.delete(one);
        button.remove();
      },
    };
  }
  private drag(event: PointerEvent, one: { at: Point; button: HTMLButtonElement }, asked: HandleAsked): void {
    event.preventDefault();
    event.stopPropagation();
    one.button.focus();
    one.button.setPointerCapture(event.pointerId);
    // it is drawn beside its place where others lie, and is seldom pressed in its middle
    const [x, y] = this.seen(one.at);
    const box = this.canvas.dom.getBoundingClientRect();
    const off = { x: event.clientX - box.left - x, y: event.clientY - box.top - y };
    const move = (next: PointerEvent): void => {
      const at = this.under({ clientX: next.clientX - off.x, clientY: next.clientY - off.y }, one.at, asked.along);
      if (at === null) return;
      one.at = at;
      this.canvas.ask();
      asked.onDrag(at, "moves");
    };
    const end = (): void => {
      one.button.removeEventListener("pointermove", move);
      one.button.removeEventListener("pointerup", end);
      one.button.removeEventListener("pointercancel", end);
      asked.onDrag(one.at, "rests");
    };
    one.button.addEventListener("pointermove", move);
    one.button.addEventListener("pointerup", end);
    one.button.addEventListener("pointercancel", end);
  }
  private key(event: KeyboardEvent, one: { at: Point }, asked: HandleAsked): void {
    const step = (asked.step_m ?? 0.05) * (event.shiftKey ? 5 : 1);
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (way === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    const [dx, dy] = way as [number, number];
    const [x, y, z] = one.at;
    const next: Point | null =
      asked.along === "up" ? [x, y, z + step * (dy || dx)]
      : asked.along === "deck" ? this.deckAt(x + dx * step, y + dy * step)
      : [x + dx * step, y + dy * step, z];
    if (next === null) return;
    one.at = next;
    this.canvas.ask();
    asked.onDrag(next, "rests");
  }
  private under(event: { clientX: number; clientY: number }, at: Point, along: HandleAsked["along"]): Point | null {
    if (along === "deck") return this.deckPoint(event);
    const { ray } = this.canvas.rayAt(event);
    const here = new Vector3(...at);
    if (along === "plan") {
      const hit = ray.intersectPlane(new Plane(new Vector3(0, 0, 1), -at[2]), new Vector3());
      return hit === null ? null : [hit.x, hit.y, at[2]];
    }
    // The upright plane through the handle that faces the eye.
    const facing = this.canvas.camera.position.clone().sub(here).setZ(0).normalize();
    const hit = ray.intersectPlane(new Plane().setFromNormalAndCoplanarPoint(facing, here), new Vector3());
    return hit === null ? null : [at[0], at[1], hit.z];
  }
  private layOut(): void {
    const all = [...this.all].filter(({ at, button }) => !(button.hidden = this.seen(at)[2] > 1));
    const spots = apart(all.map(({ at }) => [this.seen(at)[0], this.seen(at)[1]] as const), kApart_px);
    all.forEach(({ button }, i) => {
      const [x, y] = spots[i] ?? [0, 0];
      button.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -50%)`;
    });
  }
  /** On the canvas, in CSS pixels; the third is more than 1 behind the eye. */
  private seen(at: Point): Point {
    const { clientWidth: width, clientHeight: height } = this.canvas.dom;
    const to = new Vector3(...at).project(this.canvas.camera);
    return [((to.x + 1) / 2) * width, ((1 - to.y) / 2) * height, to.z];
  }
}
