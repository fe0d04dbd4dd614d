// A desk for tests of the page: revisions, undo, faults as docs/lodge.md says, over a brief of a few keys.

import { sampleArch } from "./sample_arch.mjs";

const kKeys = [
  ["Plan", "plan.outline", '[["-4.5 m", "-0.95 m"], ["4.5 m", "-0.95 m"], ["4.5 m", "0.95 m"], ["-4.5 m", "0.95 m"]]', "other", "corners, counter-clockwise", true],
  ["Plan", "plan.support[1].id", '"west"', "other", "its name", true],
  ["Plan", "plan.support[1].ends", '[["-4.5 m", "0.95 m"], ["-4.5 m", "-0.95 m"]]', "other", "ends of the springing line", true],
  ["Plan", "plan.support[2].id", '"east"', "other", "its name", true],
  ["Plan", "plan.support[2].ends", '[["4.5 m", "-0.95 m"], ["4.5 m", "0.95 m"]]', "other", "ends of the springing line", true],
  ["Form", "form.rise", '"1.8 m"', "quantity", "of the middle surface at the meeting over the mean springing", true],
  ["Form", "form.evenness", "1", "number", "weight on evenness of force between neighbours", false],
  ["Section", "section.depth_crown", '"280 mm"', "quantity", "depth at the crown, square to the middle surface", true],
  ["Section", "section.depth_springing", '"280 mm"', "quantity", "depth at the springings", true],
  ["Section", "section.hollow", "false", "other", "tubes through the blocks along the thrust", true],
  ["Blocks", "blocks.count", "11", "whole", "how many blocks", true],
  ["Joints", "joints.friction", "0.6", "number", "coefficient of friction in the joints", true],
];
const metres = (text) => {
  const match = /^"([0-9.]+) (m|mm|ft)"$/.exec(text);
  return match ? Number(match[1]) * { m: 1, mm: 1e-3, ft: 0.3048 }[match[2]] : null;
};

/** Lay `json`, `views` and `replies` onto the server of files. */
export function sampleDesk(server) {
  let now = new Map(kKeys.map(([, key, text]) => [key, text]));
  const past = [], future = [], asked = [], edits = [];
  let revision = 1;
  const part = () => ({ of: revision, fresh: true, failed: "", took_s: 0.1 });
  const state = () => ({ name: "hop", title: "A hop", file: "brief.toml", folder: ".", revision, saved: past.length === 0, undo: past.length > 0, redo: future.length > 0, busy: null, daybook: false,
    parts: { shape: part(), blocks: part(), proof: part(), whole: part() } });
  const arch = () => sampleArch({ rise_m: metres(now.get("form.rise")), depth_m: metres(now.get("section.depth_crown")) });
  const lay = () => {
    const sheaves = arch();
    for (const name of ["blocks", "shape", "ground"]) server.views.set(name, sheaves[name]);
    server.views.set("proof", sheaves.proof());
    server.views.set("proof?case=people", sheaves.proof({ case: "people", words: "people all over", load_factor: 2.4 }));
    server.json["/api/state"] = state();
    server.json["/api/keys"] = { revision, groups: [...new Set(kKeys.map((k) => k[0]))].map((name) => ({ name, keys: kKeys.filter((k) => k[0] === name).map(([, key, , written, meaning, given]) => ({ key, text: now.get(key) ?? "", value: metres(now.get(key) ?? ""), unit: "", meaning, written, given: given || now.get(key) !== kKeys.find((k) => k[1] === key)[2] })) })) };
    server.json["/api/findings"] = { of: revision, fresh: true, list: [] };
    server.json["/api/node"] = { at: [0, 0, 1.8], load_n: 500, closure_rel: 1e-12, forces: [{ kind: "edge", force: [3e4, 0, 100] }, { kind: "edge", force: [-1e4, 2e4, 100] }, { kind: "edge", force: [-2e4, -2e4, 300] }, { kind: "load", force: [0, 0, -500] }] };
    server.tell("state", state());
    return state();
  };
  const set = (key, text) => {
    const member = /^(.*)\[(\d+)\]$/.exec(key);
    if (now.has(key) || !member) return now.set(key, text);
    const list = JSON.parse(now.get(member[1]));
    list[Number(member[2]) - 1] = JSON.parse(text);
    return now.set(member[1], JSON.stringify(list));
  };
  const refuse = (status, fault) => ({ status, body: { faults: [fault] } });
  server.replies.set("/api/edit", (body) => {
    edits.push(body);
    if (body.revision !== revision) return refuse(409, { key: "revision", says: "The brief has moved on." });
    for (const { key, text } of body.changes)
      if (/rise|depth/.test(key) && !(metres(text) > 0)) return refuse(400, { key, found: text.replaceAll('"', ""), expected: 'a length such as "45 mm"', says: "This is no length." });
    past.push(new Map(now));
    future.length = 0;
    for (const { key, text } of body.changes) set(key, text);
    revision++;
    return { body: lay() };
  });
  const turn = (from, to) => () => {
    if (from.length > 0) {
      to.push(now);
      now = from.pop();
      revision++;
    }
    return { body: lay() };
  };
  server.replies.set("/api/undo", turn(past, future));
  server.replies.set("/api/redo", turn(future, past));
  server.replies.set("/api/save", ({ name }) => (name === "taken" ? refuse(409, { says: "There is a file of that name already." }) : { body: { file: `${name}.toml` } }));
  server.replies.set("/api/ask", async (question) => {
    asked.push(question);
    await new Promise((done) => setTimeout(done, question.quick ? 20 : 60));
    const off = question.crowds.findIndex((l) => Math.abs(l.at[0]) > 4.5);
    if (off >= 0) return refuse(400, { key: `crowds[${off}].at`, found: `(${question.crowds[off].at.join(", ")}), off the walking surface`, expected: `a place on it; the nearest is (${(4.5 * Math.sign(question.crowds[off].at[0])).toFixed(3)}, 0.000)`, says: "off" });
    const far = [...question.crowds, ...question.persons].find((l) => Math.abs(l.at[0]) > 4.5);
    if (far) return refuse(400, { key: "persons[1].at", found: String(far.at), expected: "a place on the walking surface", says: "This place is off the walking surface." });
    const shift = Math.min(0.1, 0.02 * (question.crowds.length + question.persons.length));
    const proof = sampleArch({ shift_m: shift }).proof;
    return proof({ view: "ask", verdict: question.without_blocks.length > 0 ? "falls" : "stands", words: [`It was asked with ${question.persons.length} persons.`], took_s: 0.06, block_of: [] });
  });
  lay();
  return { edits, asked, text: (key) => now.get(key), revision: () => revision,
    elsewhere(key, text) { past.push(new Map(now)); set(key, text); revision++; lay(); } };
}
