// Arrays of numbers with a head of JSON, as the server sends them (format: docs/lodge.md).

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
export type Head = { [key: string]: Json };
export type Numbers = Float32Array | Uint32Array | Int32Array;

export class BadSheaf extends Error {}

interface Kept {
  numbers: Numbers;
  width: number;
}

export class Sheaf {
  constructor(
    readonly head: Head,
    private readonly arrays: ReadonlyMap<string, Kept>,
  ) {}
  has(name: string): boolean {
    return this.arrays.has(name);
  }
  names(): string[] {
    return [...this.arrays.keys()];
  }
  /** Numbers a row; 1 where there is no such array. */
  width(name: string): number {
    return this.arrays.get(name)?.width ?? 1;
  }
  rows(name: string): number {
    const kept = this.arrays.get(name);
    return kept ? kept.numbers.length / kept.width : 0;
  }
  /** Empty where there is no such array; an array of another type is a fault of the server. */
  f32(name: string): Float32Array {
    const found = this.numbers(name);
    if (found === null) return new Float32Array(0);
    if (found instanceof Float32Array) return found;
    throw new BadSheaf(`${name} is not f32`);
  }
  u32(name: string): Uint32Array {
    const found = this.numbers(name);
    if (found === null) return new Uint32Array(0);
    if (found instanceof Uint32Array) return found;
    throw new BadSheaf(`${name} is not u32`);
  }
  i32(name: string): Int32Array {
    const found = this.numbers(name);
    if (found === null) return new Int32Array(0);
    if (found instanceof Int32Array) return found;
    throw new BadSheaf(`${name} is not i32`);
  }
  private numbers(name: string): Numbers | null {
    return this.arrays.get(name)?.numbers ?? null;
  }
}

const kPrefix = 8;

/** Throws BadSheaf with a sentence that says what is wrong with the bytes. */
export function decodeSheaf(bytes: ArrayBuffer): Sheaf {
  if (bytes.byteLength < kPrefix) throw new BadSheaf("the bytes end before the head");
  const look = new DataView(bytes);
  const mark = String.fromCharCode(look.getUint8(0), look.getUint8(1), look.getUint8(2), look.getUint8(3));
  if (mark !== "SKB1") throw new BadSheaf(`begins with "${mark}", not with SKB1`);
  const length = look.getUint32(4, true);
  if (kPrefix + length > bytes.byteLength) throw new BadSheaf("the head is longer than the bytes");
  const head = readHead(new Uint8Array(bytes, kPrefix, length));
  const first = Math.ceil((kPrefix + length) / 8) * 8;
  const listed = head["arrays"];
  const arrays = new Map<string, Kept>();
  if (isTable(listed)) for (const name of Object.keys(listed)) arrays.set(name, readArray(bytes, first, name, listed[name]));
  return new Sheaf(head, arrays);
}

function readHead(raw: Uint8Array): Head {
  let head: unknown;
  try {
    head = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(raw));
  } catch {
    throw new BadSheaf("the head is not JSON");
  }
  if (!isTable(head)) throw new BadSheaf("the head is not a table");
  return head;
}

function readArray(bytes: ArrayBuffer, first: number, name: string, listed: Json | undefined): Kept {
  if (!isTable(listed)) throw new BadSheaf(`${name} is not described`);
  const whole = (key: string): number => {
    const value = listed[key];
    if (typeof value !== "number" || !Number.isInteger(value) || value < 0) throw new BadSheaf(`${name}: ${key} is not a whole number`);
    return value;
  };
  const at = whole("at");
  const count = whole("count");
  const width = "width" in listed ? whole("width") : 1;
  if (at % 8 !== 0) throw new BadSheaf(`${name} begins at ${at}, not at a multiple of 8`);
  if (width === 0 || count % width !== 0) throw new BadSheaf(`${name}: ${count} numbers are not rows of ${width}`);
  if (first + at + 4 * count > bytes.byteLength) throw new BadSheaf(`${name} goes past the end`);
  if (listed["type"] === "f32") return { numbers: new Float32Array(bytes, first + at, count), width };
  if (listed["type"] === "u32") return { numbers: new Uint32Array(bytes, first + at, count), width };
  if (listed["type"] === "i32") return { numbers: new Int32Array(bytes, first + at, count), width };
  throw new BadSheaf(`${name}: type ${String(listed["type"])} is none of f32, u32, i32`);
}

export function isTable(value: unknown): value is { [key: string]: Json } {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The other way, for tests and samples. */
export function encodeSheaf(head: Head, arrays: { [name: string]: { numbers: Numbers; width: number } }): ArrayBuffer {
  const listed: Head = {};
  let at = 0;
  for (const [name, { numbers, width }] of Object.entries(arrays)) {
    const type = numbers instanceof Float32Array ? "f32" : numbers instanceof Uint32Array ? "u32" : "i32";
    listed[name] = { type, at, count: numbers.length, width };
    at += Math.ceil((4 * numbers.length) / 8) * 8;
  }
  const text = new TextEncoder().encode(JSON.stringify({ ...head, arrays: listed }));
  const first = Math.ceil((kPrefix + text.length) / 8) * 8;
  const bytes = new ArrayBuffer(first + at);
  const all = new Uint8Array(bytes);
  all.set([0x53, 0x4b, 0x42, 0x31]);
  new DataView(bytes).setUint32(4, text.length, true);
  all.set(text, kPrefix);
  for (const [name, { numbers }] of Object.entries(arrays)) {
    const place = (listed[name] as { at: number }).at;
    all.set(new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength), first + place);
  }
  return bytes;
}
