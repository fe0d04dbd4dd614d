// Elements in one line each.

type Child = Node | string | null;
interface Told {
  class?: string;
  text?: string;
  on?: { [event: string]: (event: Event) => void };
  [attribute: string]: unknown;
}

export function el<T extends keyof HTMLElementTagNameMap>(tag: T, told: Told = {}, ...children: Child[]): HTMLElementTagNameMap[T] {
  const made = document.createElement(tag);
  dress(made, told, children);
  return made;
}

export function svg<T extends keyof SVGElementTagNameMap>(tag: T, told: Told = {}, ...children: Child[]): SVGElementTagNameMap[T] {
  const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
  dress(made, told, children);
  return made;
}

function dress(made: Element, told: Told, children: readonly Child[]): void {
  for (const [name, value] of Object.entries(told)) {
    if (name === "class") made.setAttribute("class", String(value));
    else if (name === "text") made.textContent = String(value);
    else if (name === "on") for (const [event, call] of Object.entries(told.on ?? {})) made.addEventListener(event, call);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) made.setAttribute(name, String(value));
  }
  for (const child of children) if (child !== null) made.append(child);
}

export function button(words: string, press: () => void, told: Told = {}): HTMLButtonElement {
  return el("button", { type: "button", ...told, text: words, on: { click: press } });
}

let count = 0;
/** For labels and descriptions; only has to differ within the page. */
export const newId = (what: string): string => `slip-${what}-${++count}`;

/** A field with its label before it; a hint goes into its description. */
export function labelled(words: string, field: HTMLElement, hint = ""): HTMLElement {
  field.id ||= newId("field");
  const label = el("label", { for: field.id, text: words });
  if (hint === "") return el("div", { class: "slip-line" }, label, field);
  const id = newId("hint");
  field.setAttribute("aria-describedby", id);
  return el("div", { class: "slip-line" }, label, field, el("span", { class: "slip-hint", id, text: hint }));
}
