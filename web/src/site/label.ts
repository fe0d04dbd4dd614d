// What the QR code on a block says (docs/daybook.md, "Labels").

/** What the text of a label begins with. */
export const kLabelStart = "SKEWBACK2;";

export interface Label {
  bridge: string;
  name: string;
  mass: string;
  order: string;
  on: string;
  then: string;
  up: string;
  lifting: string;
  assembly: string;
}

/** Null: not the text of a label. */
export function readLabel(text: string): Label | null {
  const fields = text.trim().split(";");
  if (fields.length !== 10 || !text.trim().startsWith(kLabelStart)) return null;
  const [, bridge = "", name = "", mass = "", order = "", on = "", then = "", up = "", lifting = "", assembly = ""] = fields;
  return name === "" ? null : { bridge, name, mass, order, on, then, up, lifting, assembly };
}

/** What is wrong with a label here; empty: nothing. `stop`: it is of another bridge. */
export function labelTrouble(label: Label, bridge: string, assembly: string): { stop: boolean; says: string } {
  if (label.bridge !== bridge) return { stop: true, says: `This label is of another bridge, ${label.bridge}. Here it is ${bridge}.` };
  if (!assembly.startsWith(label.assembly))
    return { stop: false, says: "This label was printed for another version of the blocks. Ask before you use this block." };
  return { stop: false, says: "" };
}
