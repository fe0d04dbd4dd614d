// Elements in one line.

export function make<K extends keyof HTMLElementTagNameMap>(
  tag: K, cls: string, text?: string, ...children: (Node | string)[]
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  if (cls !== "") element.className = cls;
  if (text !== undefined) element.textContent = text;
  element.append(...children);
  return element;
}
export function button(text: string, call: () => void, cls = "", label?: string): HTMLButtonElement {
  const element = make("button", cls, text);
  element.type = "button";
  if (label !== undefined) element.setAttribute("aria-label", label);
  element.addEventListener("click", call);
  return element;
}
export function byId(id: string): HTMLElement {
  const element = document.getElementById(id);
  if (element === null) throw new Error(`the page has no ${id}`);
  return element;
}
