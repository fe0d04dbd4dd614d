// Elements, made from words only: nothing that was typed is ever read as markup.

type Child = Node | string | null;
type Attributes = { [name: string]: string | boolean | ((event: Event) => void) };

export function el<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag);
  fill(made, attributes, children);
  return made;
}

export function svg(tag: string, attributes: Attributes = {}, ...children: Child[]): SVGElement {
  const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
  fill(made, attributes, children);
  return made;
}

function fill(made: Element, attributes: Attributes, children: Child[]): void {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") made.addEventListener(name, value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== false) made.setAttribute(name, value);
  }
  made.append(...children.filter((child): child is Node | string => child !== null));
}

/** New children, unless they are as those there: a thumb on its way down must not miss. What has the
 *  focus keeps it, if something of the same `data-key` comes again; what was unfolded stays so. */
export function refill(place: Element, ...children: Child[]): void {
  const made = document.createElement("div");
  made.append(...children.filter((child): child is Node | string => child !== null));
  const unfolded = new Set([...place.querySelectorAll("details[open]")].map(headOf));
  for (const folded of made.querySelectorAll("details")) if (unfolded.has(headOf(folded))) folded.open = true;
  if (made.innerHTML === place.innerHTML) return;
  const active = document.activeElement;
  const key = active instanceof HTMLElement && place.contains(active) ? active.dataset["key"] : undefined;
  place.replaceChildren(...made.childNodes);
  if (key === undefined) return;
  place.querySelector<HTMLElement>(`[data-key="${CSS.escape(key)}"]`)?.focus();
}

function headOf(details: Element): string {
  return details.querySelector("summary")?.textContent ?? "";
}
