// Puts the page together over a source; the same for the lodge and for the file that is sent.

import { makeApi, type Api } from "./api";
import { watchBars } from "./bars";
import { button, byId, make } from "./dom";
import { FindingList } from "./findings";
import { Header } from "./header";
import { kKeyLines, watchKeys } from "./keys";
import { Layers } from "./layers";
import { LifeArch } from "./life/life";
import { SlipPlace, type Desk, type Slip } from "./slips";
import { Hand } from "./slips/hand";
import { Nodes } from "./nodes";
import type { Source } from "./source";
import { Store, takeState } from "./state";
import { noStructure } from "./structure/noscene";
import { watchPointer } from "./structure/press";
import { Scene } from "./structure/scene";
import type { LegendLine } from "./structure/pieces";
import type { Structure } from "./structure/structure";
import { Views } from "./views";

export interface Page {
  desk: Desk;
  scene: Scene | null;
  /** Asks for state and findings anew. */
  refresh(): Promise<void>;
}

export function buildPage(source: Source, slips: readonly Slip[]): Page {
  const api = makeApi(source);
  const store = new Store();
  const views = new Views(api);
  let life: LifeArch | null = null;
  let layers: Layers | null = null;
  let legend: readonly LegendLine[] = [];
  let fall = "";
  const scene = tryScene(store, views, () => life, (lines, words) => {
    [legend, fall] = [lines, words];
    layers?.tellLegend(lines, words);
  });
  const structure: Structure = scene ?? noStructure();
  const desk: Desk = { api, store, structure, views, hand: new Hand({ api, store }), nodes: new Nodes({ api, store, structure }) };
  const askFindings = oneAtATime(() => tellFindings(api, store));
  store.subscribe((now, before) => {
    if (now.state !== null && now.state !== before.state) views.follow(now.state);
    if (now.state !== null && findingsMoved(now.state, before.state)) void askFindings();
  });
  new Header(byId("header"), desk, { note: byId("note"), trouble: byId("trouble") });
  watchBars(desk, { gone: byId("gone"), bars: byId("bars") });
  const findings = new FindingList(byId("findings"), desk, () => scene);
  life = new LifeArch(byId("life"), byId("caption"), desk);
  layers = new Layers({ switches: byId("switches"), choices: byId("choices"), legend: byId("legend"), fall: byId("fall") }, desk, life);
  layers.tellLegend(legend, fall);
  new SlipPlace(byId("slip-buttons"), byId("slip"), slips, desk);
  const help = helpSheet(slips);
  byId("header").append(button("?", () => help(), "help", "Keys"));
  watchKeys({ desk, scene, life, slips, help, findings: () => findings.focus() });
  if (scene !== null) {
    watchPointer(scene, store);
    watchFree(scene);
    watchNodes(scene, desk);
    markDrawn(scene);
  }
  return {
    desk, scene,
    async refresh() {
      takeState(store, await api.state());
      await askFindings();
    },
  };
}

function tryScene(store: Store, views: Views, life: () => LifeArch | null, legend: (lines: LegendLine[], fall: string) => void): Scene | null {
  const place = byId("structure");
  try {
    return new Scene({ place, store, views, life, legend });
  } catch {
    place.replaceChildren(make("p", "nodraw", "This browser does not draw in three dimensions (WebGL is missing or switched off). The sentences, the life of the bridge and the slips are here all the same."));
    document.documentElement.dataset["drawn"] = "none";
    return null;
  }
}
function findingsMoved(now: { parts: object; revision: number }, before: { parts: object; revision: number } | null): boolean {
  return before === null || JSON.stringify([now.parts, now.revision]) !== JSON.stringify([before.parts, before.revision]);
}
/** Asked for while under way, the work is done once more after it: an older answer never comes last. */
function oneAtATime(work: () => Promise<void>): () => Promise<void> {
  let running: Promise<void> | null = null;
  let wanted = false;
  const round = async (): Promise<void> => {
    while (wanted) {
      wanted = false;
      await work();
    }
    running = null;
  };
  return () => {
    wanted = true;
    return (running ??= round());
  };
}
async function tellFindings(api: Api, store: Store): Promise<void> {
  try {
    store.set({ findings: await api.findings() });
  } catch {
    // none yet; they are asked for again with the next part that comes out
  }
}

const kPanels = ["header", "bars", "findings", "slip-buttons", "slip", "legend", "trouble", "note", "over", "life", "fall"] as const;

/** What the panels leave free is where the structure is fitted to. */
function watchFree(scene: Scene): void {
  const measure = (): void => {
    const box = (id: string): DOMRect | null => {
      const element = document.getElementById(id);
      return element === null || element.hidden ? null : element.getBoundingClientRect();
    };
    if (matchMedia("(max-height: 520px)").matches) {
      scene.setPanels([]);
      return scene.canvas.setFree({ left: 0, right: 0, top: 0, bottom: 0 });
    }
    scene.setPanels(kPanels.flatMap((id) => {
      const rect = box(id);
      return rect === null || rect.width === 0 || rect.height === 0 ? [] : [rect];
    }));
    const wide = innerWidth > 760;
    const slip = box("slip");
    const below = (ids: readonly string[]): number => Math.max(0, ...ids.map((id) => box(id)?.bottom ?? 0));
    // Legend, notes and choices come and go; the picture does not move for them.
    const foot = slip !== null && !wide ? slip.top : (box("life")?.top ?? innerHeight) - (wide ? 48 : 76);
    scene.canvas.setFree({
      left: wide ? Math.min(box("findings")?.right ?? 0, innerWidth * 0.45) : 0,
      right: wide && slip !== null ? Math.min(innerWidth - slip.left, innerWidth * 0.45) : 0,
      top: Math.min(below(wide ? ["header", "bars"] : ["header", "bars", "findings", "slip-buttons"]), innerHeight * (wide ? 0.3 : 0.4)),
      bottom: Math.min(innerHeight - foot, innerHeight * 0.55),
    });
  };
  const watch = new ResizeObserver(measure);
  for (const id of kPanels) watch.observe(byId(id));
  addEventListener("resize", measure);
  measure();
}

/** A press on the surface stands the force polygon of the nearest node there. */
function watchNodes(scene: Scene, { nodes, store }: Desk): void {
  scene.onSurface(([x, y]) => void nodes.ask(x, y).then(() => {
    if (nodes.told === null && nodes.trouble !== "") store.set({ note: nodes.trouble });
  }));
}
/** For whoever waits until the picture is there: how many were drawn, and how long the last took. */
function markDrawn(scene: Scene): void {
  scene.canvas.onDrawn(() => {
    const { dataset } = document.documentElement;
    dataset["drawn"] = String(scene.canvas.drawn);
    dataset["frame"] = (scene.canvas.frames_ms[scene.canvas.frames_ms.length - 1] ?? 0).toFixed(1);
  });
}

function helpSheet(slips: readonly Slip[]): (open?: boolean) => void {
  const sheet = byId("help") as HTMLDialogElement;
  const list = make("dl", "keys");
  for (const line of [...kKeyLines, ...slips.map((slip) => ({ keys: slip.key, does: slip.title.toLowerCase() }))]) {
    const keys = make("dt", "");
    for (const key of line.keys.split(" ")) keys.append(make("kbd", "", key), " ");
    list.append(keys, make("dd", "", line.does));
  }
  sheet.append(make("h2", "", "Keys"), list, button("close", () => sheet.close()));
  return (open = !sheet.open) => {
    if (open && !sheet.open) sheet.showModal();
    else if (!open) sheet.close();
  };
}
