// "Cut through it": the section through one joint, with what crosses it.

import type { Desk, Slip } from "../slips";
import type { Json } from "../sheaf";
import { isDraft } from "../state";
import { caseFor } from "../structure/cases";
import { button, el, labelled } from "./dom";
import { readCases, readJoints, readState } from "./joints";
import { mountNode } from "./node";
import { section, standsOver, type JointShape, type JointState, type Section } from "./section_drawing";
import { describe, drawAngle, drawSection } from "./section_svg";
import { degrees, figures, kilonewtons, megapascals, millimetres, percent, signOf, signOfShare } from "./say";

export const cutSlip: Slip = { name: "cut", title: "Cut through it", key: "x", mount: (into, desk) => new Cut(into, desk).clear };

export interface Row { name: string; value: string; share: number | null }

/** What the table says; a number that the proof does not hold is said to be missing. */
export function rows(joint: JointShape, state: JointState, s: Section): Row[] {
  const or = (v: number, say: (v: number) => string): string => (Number.isFinite(v) ? say(v) : "not known");
  const list: Row[] = [
    { name: "Thrust, square to the joint", value: s.thrust ? kilonewtons(s.normal_n) : "none", share: null },
    { name: "Shear along the joint", value: s.thrust ? kilonewtons(s.shear_n) : "none", share: null },
  ];
  if (s.thrust && s.depthShare !== null)
    list.push({ name: "Where it crosses", value: `${(s.depthShare * 100).toFixed(0)} % of the depth there, ${s.thrustHolds}`, share: null });
  if (s.angle_rad !== null)
    list.push({
      name: "Lean from the normal", value: `${degrees(s.angle_rad)} of ${degrees(s.frictionAngle_rad)}`,
      share: joint.friction > 0 ? Math.tan(Math.min(s.angle_rad, 1.57)) / joint.friction : null,
    });
  list.push({ name: "Friction used", value: `${or(state.friction_used, figures)} of ${figures(joint.friction)}`, share: joint.friction > 0 && Number.isFinite(state.friction_used) ? state.friction_used / joint.friction : null });
  // as drawn: of the plane of pressure; the pads have their own
  list.push({ name: "Greatest pressure", value: s.wedge ? megapascals(s.wedge.peak) : or(state.peak_pa, megapascals), share: null });
  if (s.wedge && Number.isFinite(state.peak_pa)) list.push({ name: "At one contact point, by the pads", value: megapascals(state.peak_pa), share: null });
  list.push({ name: "Share that bears", value: or(state.closed_share, percent), share: null });
  list.push({ name: "Widest opening", value: or(state.opening_m, millimetres), share: null });
  list.push({ name: standsOver(s) ? "Depth in the middle of the width" : "Depth", value: millimetres(s.depth_m), share: null });
  if (standsOver(s)) list.push({ name: "Height over all, upstands and edges included", value: millimetres(s.over_m), share: null });
  if (joint.pad_m !== null && joint.pad_m > 0) list.push({ name: "Pad", value: millimetres(joint.pad_m), share: null });
  return list;
}

export function table(list: readonly Row[], caption: string): HTMLTableElement {
  return el("table", { class: "slip-table" }, el("caption", { text: caption }), el("tbody", {},
    ...list.map((row) => {
      const sign = row.share === null || !Number.isFinite(row.share) ? null : signOfShare(row.share);
      return el("tr", {}, el("th", { scope: "row", text: row.name }),
        el("td", { class: sign ? `is-${sign}` : "" }, ...(sign ? [el("span", { class: "slip-sign", "aria-hidden": "true", text: signOf[sign] })] : []), row.value));
    })));
}

/** The drawing with its table; used by answers to questions too. */
export function sectionParts(joint: JointShape, state: JointState | null, words: string): HTMLElement[] {
  if (!state) return [el("p", { class: "slip-quiet", text: "Nothing is known of this joint under this case yet." })];
  const s = section(joint, state);
  const parts: HTMLElement[] = [];
  const figure = el("figure", { class: "slip-drawing" });
  const drawing = drawSection(joint, s);
  if (drawing) figure.append(drawing);
  const angle = drawAngle(s);
  if (angle) figure.append(angle);
  figure.append(el("figcaption", { class: "slip-hint", text: legend(s) }));
  parts.push(figure);
  if (!s.thrust) parts.push(el("p", { text: "No force crosses this joint under this case." }));
  else if (!s.wedge) parts.push(el("p", { class: "is-falls", text: `${signOf.falls} The thrust goes past the joint: no pressure without tension can carry it.` }));
  if (state.slipping) parts.push(el("p", { class: "is-near", text: `${signOf.near} Part of this joint slips.` }));
  parts.push(table(rows(joint, state, s), words));
  return parts;
}

function legend(s: Section): string {
  const parts = ["Outline: contact."];
  if (s.compressed.length > 0) parts.push("Hatched: bears.");
  if (s.kern) parts.push(`Dashed: ${s.kernName}.`);
  if (s.thrust) parts.push("Cross: thrust.");
  if (s.pads.length > 0) parts.push("Dots: contact points, larger for more pressure.");
  return parts.join(" ");
}

class Cut {
  private readonly joint = el("select", { on: { change: () => this.choose(this.joint.value) } });
  private readonly cases = el("select", { on: { change: () => this.under(this.cases.value) } });
  private readonly said = el("p", { class: "slip-said", role: "status" });
  private readonly drawn = el("div", { class: "slip-drawn" });
  private readonly ends: (() => void)[];
  private last = "";

  constructor(into: HTMLElement, private readonly desk: Desk) {
    const node = el("div", { class: "slip-part" });
    into.append(
      el("div", { class: "slip-row" }, button("before", () => this.step(-1), { "aria-label": "the joint before" }),
        button("after", () => this.step(1), { "aria-label": "the joint after" }), button("point at a joint", () => void this.pick())),
      labelled("Joint", this.joint), labelled("Under", this.cases), this.said, this.drawn, node,
    );
    const { store, views, structure } = desk;
    this.ends = [
      store.subscribe((now, before) => {
        if (now.chosen !== before.chosen || now.caseId !== before.caseId || now.moment !== before.moment || now.state !== before.state) this.show();
      }),
      views.subscribe((name) => {
        if (name === "blocks" || name === "proof") this.show();
      }),
      structure.onPick((picked) => {
        if (picked.kind === "joint") this.choose(picked.id);
      }),
      mountNode(node, desk),
    ];
    this.show();
  }
  readonly clear = (): void => {
    for (const end of this.ends) end();
    this.desk.structure.highlight({});
  };

  /** Any case but the weight alone belongs to the moment it is walked on. */
  private under(id: string): void {
    const { store } = this.desk;
    const weight = this.cases.options[0]?.value === id;
    store.set(weight && !store.get().moment.startsWith("walked") ? { caseId: id } : { caseId: id, moment: "walked" });
  }
  private choose(id: string): void {
    const { store } = this.desk;
    store.set({ chosen: { ...store.get().chosen, joint: id } });
  }
  private async pick(): Promise<void> {
    const picked = await this.desk.structure.pick("joint");
    if (picked) this.choose(picked.id);
  }
  private step(by: number): void {
    const ids = [...this.joint.options].map((o) => o.value);
    const at = ids.indexOf(this.desk.store.get().chosen.joint ?? "");
    const next = ids[(Math.max(at, by > 0 ? -1 : 0) + by + ids.length) % Math.max(1, ids.length)];
    if (next !== undefined) this.choose(next);
  }

  private show(): void {
    const { store, views } = this.desk;
    const blocks = views.want("blocks");
    if (!blocks.sheaf) return this.say(blocks.missing || "The blocks are on their way.");
    const joints = readJoints(blocks.sheaf), named = readCases(blocks.sheaf);
    const { chosen, caseId, moment } = store.get();
    // the case that the picture shows
    const shown = caseFor(moment.startsWith("walked") ? "walked" : "struck", caseId, views);
    const under = named.find((c) => c.id === shown) ?? named[0] ?? { id: "", words: "" };
    fill(this.joint, joints.flatMap((j) => (j ? [{ id: j.id, words: `${j.a} to ${j.b}` }] : [])), chosen.joint ?? "");
    fill(this.cases, named, under.id);
    const index = joints.findIndex((j) => j?.id === chosen.joint);
    const joint = joints[index];
    if (!joint) return this.say("Choose a joint: point at one, or go from one to the next.");
    if (this.last !== joint.id) this.desk.structure.highlight({ joints: [index] });
    this.last = joint.id;
    const proof = views.want("proof", { case: under.id });
    if (!proof.sheaf) return this.say(proof.missing || "The proof is on its way.");
    if (proof.sheaf.rows("force") !== joints.length) return this.say("The blocks have changed; their proof is on its way.");
    this.draw(joint, readState(proof.sheaf, index), under.words, ofAnother(proof.sheaf.head["of"], blocks.sheaf.head["of"]));
  }
  private draw(joint: JointShape, state: JointState | null, words: string, older: boolean): void {
    const { state: now } = this.desk.store.get();
    const draft = now !== null && !older && isDraft(now.parts.proof, now.revision) ? `This proof is not whole yet: ${now.parts.proof.draft}.` : "";
    const stale = older || now?.parts.proof.fresh === false ? "This is of an older version of the brief; the newest is being worked out." : "";
    const note = draft || stale ? [el("p", { class: "is-near", text: `${signOf.near} ${draft || stale}` })] : [];
    this.drawn.replaceChildren(...note, ...sectionParts(joint, state, words));
    const sentence = state ? describe(joint, section(joint, state)) : "";
    if (this.said.textContent !== sentence) this.said.textContent = sentence;
  }
  private say(words: string): void {
    this.said.textContent = "";
    this.drawn.replaceChildren(el("p", { class: "slip-quiet", text: words }));
  }
}

const ofAnother = (a: Json | undefined, b: Json | undefined): boolean => typeof a === "number" && typeof b === "number" && a !== b;

export function fill(select: HTMLSelectElement, options: readonly { id: string; words: string }[], chosen: string): void {
  const same = select.options.length === options.length && options.every((o, i) => select.options[i]?.value === o.id && select.options[i]?.textContent === o.words);
  if (!same) select.replaceChildren(...options.map((o) => el("option", { value: o.id, text: o.words })));
  select.value = chosen;
}
