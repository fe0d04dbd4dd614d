// Where the browser cannot draw in three dimensions: everything is listed all the same.

import type { Structure } from "./structure";

export function noStructure(): Structure {
  const nothing = (): void => undefined;
  return {
    draws: false,
    pick: () => Promise.resolve(null),
    endPick: () => undefined,
    onPick: () => nothing,
    onHover: () => nothing,
    onSurface: () => nothing,
    highlight: nothing,
    flyTo: nothing,
    fit: nothing,
    showProof: nothing,
    showPolygon: nothing,
    groundPoint: () => null,
    deckPoint: () => null,
    deckAt: () => null,
    addHandle: () => ({ moveTo: nothing, say: nothing, remove: nothing }),
    overlay: nothing,
    redraw: nothing,
  };
}
