// One request on its way at a time; of those that wait, only the newest goes.

export class Latest<Q, A> {
  private waiting: Q | null = null;
  private busy = false;
  private round = 0;

  constructor(
    private readonly send: (question: Q) => Promise<A>,
    private readonly answered: (answer: A, question: Q) => void,
    private readonly failed: (reason: unknown, question: Q) => void,
  ) {}

  ask(question: Q): void {
    this.waiting = question;
    if (!this.busy) void this.go();
  }

  /** What is on its way will not be told; what waits does not go. */
  forget(): void {
    this.round++;
    this.waiting = null;
  }

  get working(): boolean {
    return this.busy;
  }

  private async go(): Promise<void> {
    this.busy = true;
    try {
      while (this.waiting !== null) {
        const question = this.waiting;
        const round = this.round;
        this.waiting = null;
        const came = await this.send(question).then(
          (answer) => ({ answer }),
          (reason: unknown) => ({ reason }),
        );
        if (round !== this.round) continue;
        if ("answer" in came) this.answered(came.answer, question);
        else this.failed(came.reason, question);
      }
    } finally {
      this.busy = false;
    }
  }
}

/** Runs `what` once nothing has been asked for `wait_ms`. */
export class Rest {
  private timer: ReturnType<typeof setTimeout> | null = null;
  constructor(private readonly wait_ms: number, private readonly what: () => void) {}
  again(): void {
    this.stop();
    this.timer = setTimeout(() => {
      this.timer = null;
      this.what();
    }, this.wait_ms);
  }
  now(): void {
    if (this.timer === null) return;
    this.stop();
    this.what();
  }
  stop(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.timer = null;
  }
}
