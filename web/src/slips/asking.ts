// Questions on their way: quick answers while something is walked about, the whole one when it rests.

import type { Question } from "../api";
import { Latest, Rest } from "./latest";
import { asksSomething, nothingAsked } from "./question";

export const kRest_ms = 300;

export interface Reply<A> {
  answer: A;
  question: Question;
  quick: boolean;
}

export class Asking<A> {
  question: Question;
  private readonly latest: Latest<Question, A>;
  private readonly rest: Rest;

  constructor(
    send: (question: Question) => Promise<A>,
    private readonly told: { answered(reply: Reply<A>): void; failed(reason: unknown): void; asking(quick: boolean): void; empty(): void },
    caseId: string,
  ) {
    this.question = nothingAsked(caseId);
    this.latest = new Latest(send,
      (answer, question) => told.answered({ answer, question, quick: question.quick === true }),
      (reason) => told.failed(reason));
    this.rest = new Rest(kRest_ms, () => this.whole());
  }

  /** `moves`: it is still being walked about; a quick answer now, the whole one after a rest. */
  change(part: Partial<Question>, moves = false): void {
    this.question = { ...this.question, ...part };
    if (!asksSomething(this.question)) {
      this.rest.stop();
      this.latest.forget();
      this.told.empty();
      return;
    }
    // What a tie held is the ground's affair, which the pads alone do not know.
    if (moves && this.question.without_ties.length === 0) this.ask(true);
    this.rest.again();
  }
  /** The same question once more, of a bridge that has changed. */
  again(): void {
    if (asksSomething(this.question)) this.rest.again();
  }
  stop(): void {
    this.rest.stop();
    this.latest.forget();
  }

  private whole(): void {
    this.ask(false);
  }
  private ask(quick: boolean): void {
    this.told.asking(quick);
    this.latest.ask(quick ? { ...this.question, quick: true } : this.question);
  }
}
