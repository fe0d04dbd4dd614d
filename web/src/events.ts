// Server events over fetch, so that the token can go with the request; comes back by itself.

export interface ServerEvent {
  name: string;
  data: string;
}

/** Cuts a growing text into events; what is not whole yet waits for the next piece. */
export class EventCutter {
  private left = "";
  push(text: string): ServerEvent[] {
    this.left += text;
    const events: ServerEvent[] = [];
    for (;;) {
      const end = /\r?\n\r?\n/.exec(this.left);
      if (end === null) return events;
      const event = readEvent(this.left.slice(0, end.index));
      this.left = this.left.slice(end.index + end[0].length);
      if (event !== null) events.push(event);
    }
  }
}

function readEvent(block: string): ServerEvent | null {
  let name = "message";
  const data: string[] = [];
  for (const line of block.split(/\r?\n/)) {
    if (line.startsWith("event:")) name = line.slice(6).trim();
    else if (line.startsWith("data:")) data.push(line.slice(5).replace(/^ /, ""));
  }
  return data.length === 0 ? null : { name, data: data.join("\n") };
}

/** Seconds to wait before the n-th new try. */
export function waitBefore(tries: number): number {
  return Math.min(8, 0.5 * 2 ** Math.min(tries, 10));
}

export interface Listening {
  stop(): void;
}
export interface Listener {
  event(event: ServerEvent): void;
  /** Told each time it comes and goes, the first time too. */
  here(here: boolean): void;
}

// The server says something at least every 15 s; three times that without a word, and it is gone.
const kSilence_ms = 45_000;

export function listen(path: string, token: string, listener: Listener): Listening {
  let stopped = false;
  let current = new AbortController();
  let tries = 0;
  const once = async (): Promise<void> => {
    current = new AbortController();
    const headers: Record<string, string> = { Accept: "text/event-stream" };
    if (token !== "") headers["X-Lodge-Token"] = token;
    const reply = await fetch(path, { headers, signal: current.signal, cache: "no-store" });
    if (!reply.ok || reply.body === null) throw new Error(`refused (${reply.status})`);
    tries = 0;
    listener.here(true);
    const cutter = new EventCutter();
    const reader = reply.body.pipeThrough(new TextDecoderStream()).getReader();
    for (;;) {
      const { done, value } = await orSilence(reader.read());
      if (done) return;
      for (const event of cutter.push(value)) listener.event(event);
    }
  };
  const forever = async (): Promise<void> => {
    while (!stopped) {
      try {
        await once();
      } catch {
        // told below, tried again after a while
      }
      if (stopped) return;
      current.abort();
      listener.here(false);
      await new Promise((resolve) => setTimeout(resolve, 1000 * waitBefore(tries++)));
    }
  };
  void forever();
  return {
    stop() {
      stopped = true;
      current.abort();
    },
  };
}

function orSilence<T>(read: Promise<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error("silence")), kSilence_ms);
    read.then(resolve, reject).finally(() => clearTimeout(timer));
  });
}
