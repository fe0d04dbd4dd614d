// Keys of the page. Those of one letter work wherever no text is being typed.

import type { LifeArch } from "./life/life";
import { deedOf } from "./slips/hand";
import type { Slip, Desk } from "./slips";
import type { Scene } from "./structure/scene";

export interface KeyLine {
  keys: string;
  does: string;
}
export const kKeyLines: readonly KeyLine[] = [
  { keys: "← → ↑ ↓", does: "turn the structure, when the picture is chosen; go along the life, when its arch is" },
  { keys: "+ −", does: "come nearer, go away" },
  { keys: "Home", does: "see all of it" },
  { keys: "n p", does: "next joint, joint before" },
  { keys: ", .", does: "one step back in the life, one on" },
  { keys: "f", does: "go to the sentences" },
  { keys: "Ctrl+Z, Ctrl+Shift+Z", does: "undo, redo" },
  { keys: "Esc", does: "let go of what is chosen; put the slip away" },
  { keys: "?", does: "this list" },
];

export interface KeyWorld {
  desk: Desk;
  scene: Scene | null;
  life: LifeArch;
  slips: readonly Slip[];
  help: (open?: boolean) => void;
  findings: () => void;
}

function typing(event: KeyboardEvent): boolean {
  const at = event.target as HTMLElement | null;
  return at !== null && (at.isContentEditable || /^(INPUT|TEXTAREA|SELECT)$/.test(at.tagName));
}

export function watchKeys(world: KeyWorld): void {
  addEventListener("keydown", (event) => {
    if (event.defaultPrevented || typing(event)) return;
    if (event.ctrlKey || event.metaKey) return undo(event, world);
    if (event.altKey) return;
    if (act(event.key, world, event)) event.preventDefault();
  });
}

function undo(event: KeyboardEvent, { desk }: KeyWorld): void {
  const deed = deedOf(event);
  if (deed === null || !desk.api.source.live) return;
  event.preventDefault();
  void desk.hand[deed]();
}

function act(key: string, world: KeyWorld, event: KeyboardEvent): boolean {
  const { scene, desk, life } = world;
  if (key === "?") return done(world.help());
  if (key === "Escape") return done(escape(world));
  if (key === "f") return done(world.findings());
  if (key === ",") return done(life.go(-1, false));
  if (key === ".") return done(life.go(1, false));
  const slip = world.slips.find((each) => each.key === key);
  if (slip !== undefined) return done(desk.store.set({ slip: desk.store.get().slip === slip.name ? null : slip.name }));
  if (scene === null) return false;
  if (key === "n" || key === "p") return done(nextJoint(scene, desk, key === "n" ? 1 : -1));
  if (key === "+" || key === "=") return done(scene.canvas.nearer(0.8));
  if (key === "-") return done(scene.canvas.nearer(1.25));
  if (key === "Home") return done(scene.fit());
  if (event.target !== scene.canvas.dom && event.target !== document.body) return false;
  const way = { ArrowLeft: [-0.12, 0], ArrowRight: [0.12, 0], ArrowUp: [0, 0.08], ArrowDown: [0, -0.08] }[key];
  if (way === undefined) return false;
  return done(scene.canvas.turn(way[0] as number, way[1] as number));
}
function done(_: unknown): true {
  return true;
}

function escape({ scene, desk, help }: KeyWorld): void {
  help(false);
  if (scene?.pickWaits) return scene.pickWaits.done(null);
  const { chosen, slip } = desk.store.get();
  if (chosen.block !== null || chosen.joint !== null) {
    desk.store.set({ chosen: { block: null, joint: null } });
    scene?.highlight({});
  } else if (slip !== null) desk.store.set({ slip: null });
  else desk.nodes.clear();
}

export function nextJoint(scene: Scene, desk: Desk, by: 1 | -1): void {
  const joints = scene.jointHeads();
  if (joints.length === 0) return;
  const here = joints.findIndex((joint) => joint.id === desk.store.get().chosen.joint);
  const next = here < 0 ? (by > 0 ? 0 : joints.length - 1) : (here + by + joints.length) % joints.length;
  const joint = joints[next];
  if (joint === undefined) return;
  desk.store.set({ chosen: { block: null, joint: joint.id }, note: `Joint ${joint.id}.` });
  scene.highlight({});
  scene.flyTo(joint.at);
}
