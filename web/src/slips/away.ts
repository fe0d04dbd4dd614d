// Blocks that are taken away, picked in the picture or by name.

import type { Desk } from "../slips";
import { button, el, labelled } from "./dom";
import { blockIds } from "./joints";

export class Away {
  readonly root = el("div", {});
  private readonly list = el("ul", { class: "slip-away" });
  private gone: string[] = [];
  constructor(private readonly desk: Desk, private readonly changed: (gone: string[]) => void) {
    const typed = el("input", { type: "text", autocomplete: "off" });
    const take = (): void => {
      const blocks = desk.views.want("blocks").sheaf;
      const known = blocks ? blockIds(blocks) : [];
      typed.setAttribute("aria-invalid", String(!known.includes(typed.value.trim())));
      if (!known.includes(typed.value.trim())) return;
      this.add(typed.value.trim());
      typed.value = "";
    };
    typed.addEventListener("change", take);
    this.root.append(el("div", { class: "slip-row" }, button("take a block away", () => void this.pick())), labelled("or by its name", typed), this.list);
  }
  clear(): void {
    this.gone = [];
    this.show();
  }
  private async pick(): Promise<void> {
    const picked = await this.desk.structure.pick("block");
    if (picked) this.add(picked.id);
  }
  private add(id: string): void {
    if (this.gone.includes(id)) return;
    this.gone = [...this.gone, id];
    this.show();
    this.changed(this.gone);
  }
  private show(): void {
    this.list.replaceChildren(...this.gone.map((id) => el("li", {}, `${id} is away `, button("put back", () => {
      this.gone = this.gone.filter((g) => g !== id);
      this.show();
      this.changed(this.gone);
    }, { "aria-label": `Put ${id} back` }))));
  }
}
