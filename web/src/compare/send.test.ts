import { expect, it } from "vitest";
import { emptyLodge } from "../state";
import { fileName } from "./send";
import type { LodgeState } from "../api";

const state = (name: string, revision: number): LodgeState => ({ ...({} as LodgeState), name, revision });

it("names the file by bridge and revision, whatever the bridge is called", () => {
  expect(fileName(state("drovers-hop", 3))).toBe("drovers-hop-r3.html");
  expect(fileName(state("../a b/ü", 1))).toBe("a-b-r1.html");
  expect(fileName(state("", 2))).toBe("bridge-r2.html");
  expect(fileName(emptyLodge().state)).toBe("bridge-r1.html");
});
