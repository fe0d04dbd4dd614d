// Pressing and passing over the picture.

import { kilograms } from "../figures";
import type { Store } from "../state";
import type { Picked } from "./structure";
import type { Scene } from "./scene";

const kStill_px = 5; // a press that moved farther was a turn

export function watchPointer(scene: Scene, store: Store): void {
  const { dom } = scene.canvas;
  let down: { x: number; y: number } | null = null;
  dom.addEventListener("pointerdown", (event) => (down = { x: event.clientX, y: event.clientY }));
  dom.addEventListener("pointerup", (event) => {
    const still = down !== null && Math.hypot(event.clientX - down.x, event.clientY - down.y) < kStill_px;
    down = null;
    if (still && event.button === 0) pressed(scene, store, event);
  });
  let asked = false;
  dom.addEventListener("pointermove", (event) => {
    if (asked || event.buttons !== 0 || event.pointerType === "touch") return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      hovered(scene, event);
    });
  });
  dom.addEventListener("pointerleave", () => {
    scene.hoverAt(null);
    scene.tell("hover", null);
  });
}

function pressed(scene: Scene, store: Store, event: PointerEvent): void {
  const { pointer } = scene;
  const waits = scene.pickWaits;
  if (waits !== null) {
    const picked = pointer[waits.kind](event);
    if (picked !== null) waits.done(picked);
    return;
  }
  const onSurface = pointer.surface(event);
  if (onSurface !== null) scene.tell("surface", onSurface.at);
  const block = pointer.block(event);
  const joint = pointer.joint(event);
  if (block === null && joint === null) {
    store.set({ chosen: { block: null, joint: null }, chosenFinding: null });
    scene.highlight({});
    return;
  }
  store.set({ chosen: { block: block?.id ?? null, joint: joint?.id ?? null } });
  scene.highlight({ blocks: block === null ? [] : [block.index] });
  const picked: Picked | null = joint ?? block;
  if (block !== null) scene.tell("pick", block);
  if (picked !== null && picked !== block) scene.tell("pick", picked);
}

function hovered(scene: Scene, event: PointerEvent): void {
  const picked = scene.pickWaits?.kind === "joint" ? scene.pointer.joint(event) : scene.pointer.block(event);
  scene.tell("hover", picked);
  if (picked === null) return scene.hoverAt(null);
  const head = picked.kind === "block" ? scene.blockHead(picked.index) : undefined;
  const text = head === undefined ? picked.id : head.fixed ? picked.id : `${picked.id}, ${kilograms(head.mass_kg)}`;
  scene.hoverAt({ at: picked.at, text, look: "chosen", weight: 100 });
}
