import { describe, expect, it } from "vitest";
import { BadSheaf, decodeSheaf, encodeSheaf } from "./sheaf";

const sample = (): ArrayBuffer =>
  encodeSheaf(
    { view: "blocks", of: 3, fresh: true },
    {
      points: { numbers: new Float32Array([1.5, -2, 3, 4, 5, 6, 7, 8, 9]), width: 3 },
      block: { numbers: new Uint32Array([0, 1, 4294967295]), width: 1 },
      edge: { numbers: new Int32Array([-1, 2]), width: 2 },
    },
  );

function with_(change: (bytes: Uint8Array, text: string) => ArrayBuffer | void): ArrayBuffer {
  const bytes = sample();
  const length = new DataView(bytes).getUint32(4, true);
  const text = new TextDecoder().decode(new Uint8Array(bytes, 8, length));
  return change(new Uint8Array(bytes), text) ?? bytes;
}
function rebuilt(text: string, tail: number): ArrayBuffer {
  const head = new TextEncoder().encode(text);
  const bytes = new ArrayBuffer(Math.ceil((8 + head.length) / 8) * 8 + tail);
  new Uint8Array(bytes).set([83, 75, 66, 49]);
  new DataView(bytes).setUint32(4, head.length, true);
  new Uint8Array(bytes).set(head, 8);
  return bytes;
}

describe("a sheaf", () => {
  it("comes back as it went", () => {
    const sheaf = decodeSheaf(sample());
    expect(sheaf.head["view"]).toBe("blocks");
    expect([...sheaf.f32("points")]).toEqual([1.5, -2, 3, 4, 5, 6, 7, 8, 9]);
    expect(sheaf.rows("points")).toBe(3);
    expect([...sheaf.u32("block")]).toEqual([0, 1, 4294967295]);
    expect([...sheaf.i32("edge")]).toEqual([-1, 2]);
    expect(sheaf.names()).toEqual(["points", "block", "edge"]);
  });
  it("gives nothing for an array that is not there, and refuses the wrong type", () => {
    const sheaf = decodeSheaf(sample());
    expect(sheaf.f32("none").length).toBe(0);
    expect(() => sheaf.u32("points")).toThrow(BadSheaf);
  });
  it("is read from bytes written by hand", () => {
    const head = '{"view":"x","arrays":{"a":{"type":"f32","at":8,"count":2,"width":1}}}';
    const bytes = rebuilt(head, 16);
    new DataView(bytes).setFloat32(bytes.byteLength - 8, 0.25, true);
    new DataView(bytes).setFloat32(bytes.byteLength - 4, -7, true);
    expect([...decodeSheaf(bytes).f32("a")]).toEqual([0.25, -7]);
  });
  it("is refused when it is cut short at any place", () => {
    const whole = sample();
    for (let end = 0; end < whole.byteLength - 8; ++end) expect(() => decodeSheaf(whole.slice(0, end)), `cut at ${end}`).toThrow(BadSheaf);
  });
  it("is refused with the wrong mark", () => {
    expect(() => decodeSheaf(with_((bytes) => void (bytes[3] = 50)))).toThrow(/SKB1/);
  });
  const broken: [string, RegExp][] = [
    ['{"arrays":{"a":{"type":"f64","at":0,"count":1,"width":1}}}', /none of f32/],
    ['{"arrays":{"a":{"type":"f32","at":4,"count":1,"width":1}}}', /multiple of 8/],
    ['{"arrays":{"a":{"type":"f32","at":0,"count":3,"width":2}}}', /rows of 2/],
    ['{"arrays":{"a":{"type":"f32","at":0,"count":3,"width":0}}}', /rows of 0/],
    ['{"arrays":{"a":{"type":"f32","at":0,"count":99,"width":1}}}', /past the end/],
    ['{"arrays":{"a":{"type":"f32","at":-8,"count":1,"width":1}}}', /whole number/],
    ['{"arrays":{"a":7}}', /not described/],
    ["[1]", /not a table/],
    ["{", /not JSON/],
  ];
  it.each(broken)("is refused: %s", (text, says) => {
    expect(() => decodeSheaf(rebuilt(text, 16))).toThrow(says);
  });
});
