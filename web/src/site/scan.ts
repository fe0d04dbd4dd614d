// The label through the camera, where the browser can read codes.

interface Detector {
  detect(from: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}
interface DetectorMaker {
  new (options: { formats: string[] }): Detector;
  getSupportedFormats?(): Promise<string[]>;
}

function maker(): DetectorMaker | null {
  const found = (globalThis as { BarcodeDetector?: DetectorMaker }).BarcodeDetector;
  return found ?? null;
}

const kElse = "Pick the block instead, or paste what another app read off the label.";

/** Why this page cannot scan; empty: it can try. */
export async function whyNoScan(): Promise<string> {
  if (!isSecureContext || navigator.mediaDevices === undefined)
    return `The browser gives the camera only to pages that come over https, or from this machine itself. ${kElse}`;
  const made = maker();
  if (made === null) return `This browser cannot read codes. ${kElse}`;
  const formats = (await made.getSupportedFormats?.()) ?? ["qr_code"];
  return formats.includes("qr_code") ? "" : `This browser cannot read QR codes. ${kElse}`;
}

export interface Scan {
  stop(): void;
}

/** Shows the camera in `video` and calls once for each new text it reads, until it is stopped. */
export async function scan(video: HTMLVideoElement, found: (text: string) => void): Promise<Scan> {
  const made = maker();
  if (made === null) throw new Error(await whyNoScan());
  const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false });
  const detector = new made({ formats: ["qr_code"] });
  let stopped = false;
  let last = "";
  const stop = (): void => {
    stopped = true;
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
  video.srcObject = stream;
  await video.play();
  const look = async (): Promise<void> => {
    while (!stopped) {
      try {
        const [code] = video.readyState >= 2 ? await detector.detect(video) : [];
        if (code !== undefined && code.rawValue !== last && !stopped) {
          last = code.rawValue;
          found(code.rawValue);
        }
      } catch {
        // a frame that could not be read: the next one may be
      }
      await new Promise((resolve) => setTimeout(resolve, 150));
    }
  };
  void look();
  return { stop };
}

/** In words for the person, of what getUserMedia throws. */
export function cameraTrouble(error: unknown): string {
  const name = error instanceof DOMException ? error.name : "";
  if (name === "NotAllowedError") return `The camera was not allowed. ${kElse}`;
  if (name === "NotFoundError") return `There is no camera. ${kElse}`;
  return `The camera does not start. ${kElse}`;
}
