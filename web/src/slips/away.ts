// Blocks that are taken away, picked in the picture or by name.

import type { Desk } from "../slips";
import { button, el, labelled } from "./dom";
import { blockIds } from "./joints";

const some = (names: readonly string[]): string => (names.length <= 8 ? names.join(", ") : `${names.slice(0, 8).join(", ")} …`);

export class Away {
  readonly root = el("div", {});
  private readonly list = el("ul", { class: "slip-away" });
  private readonly says = el("p", { class: "slip-wrong", role: "alert" });
  private gone: string[] = [];
  constructor(private readonly desk: Desk, private readonly changed: (gone: string[]) => void) {
    const typed = el("input", { type: "text", autocomplete: "off" });
    const take = (): void => {
      const blocks = desk.views.want("blocks").sheaf;
      const known = blocks ? blockIds(blocks) : [];
      const name = typed.value.trim();
      const wrong = name !== "" && !known.includes(name);
      typed.setAttribute("aria-invalid", String(wrong));
      this.says.textContent = wrong ? `There is no block of the name ${name}. Those that are: ${some(known)}.` : "";
      if (wrong || name === "") return;
      this.add(name);
      typed.value = "";
    };
    typed.addEventListener("change", take);
    this.root.append(el("div", { class: "slip-row" }, button("take a block away", () => void this.pick())), labelled("or by its name", typed), this.says, this.list);
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
