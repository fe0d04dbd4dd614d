import { describe, expect, it } from "vitest";
import { decodeSheaf, encodeSheaf } from "../sheaf";
import { judged } from "./answer";

const answer = (verdict: string, share: number | null) => decodeSheaf(encodeSheaf({ verdict, governing: share === null ? null : { what: "pad", share, joint: 0, says: "over" } }, {}));

describe("the sign of an answer", () => {
  it("follows the worse of the verdict and of the limit that governs", () => {
    expect(judged(answer("stands", 2.02))).toEqual({ sign: "falls", says: "stands, but over a limit" });
    expect(judged(answer("stands", 0.8))).toEqual({ sign: "near", says: "stands, but near a limit" });
    expect(judged(answer("stands", 0.79))).toEqual({ sign: "holds", says: "stands" });
    expect(judged(answer("falls", 0.5))).toEqual({ sign: "falls", says: "falls" });
    expect(judged(answer("falls", 3))).toEqual({ sign: "falls", says: "falls" });
    expect(judged(answer("undecided", 1.2))).toEqual({ sign: "falls", says: "undecided, and over a limit" });
    expect(judged(answer("undecided", 0.9))).toEqual({ sign: "near", says: "undecided, and near a limit" });
    expect(judged(answer("undecided", null))).toEqual({ sign: "near", says: "undecided" });
    expect(judged(answer("", null)).says).toBe("undecided");
  });
});
