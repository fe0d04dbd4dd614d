// Find as you type, over keys and their meanings.

export interface Findable {
  key: string;
  meaning: string;
}

/** How well `words` fit: 0 not at all; each word must be found somewhere; keys count before meanings. */
export function fit(item: Findable, typed: string): number {
  const words = typed.toLowerCase().split(/\s+/).filter((w) => w !== "");
  if (words.length === 0) return 1;
  const key = item.key.toLowerCase();
  const plain = key.replace(/[_.[\]]/g, " ");
  const meaning = item.meaning.toLowerCase();
  let total = 0;
  for (const word of words) {
    const score = inText(key, plain, word) || (meaning.includes(word) ? 1 : 0);
    if (score === 0) return 0;
    total += score;
  }
  return total / words.length;
}

function inText(key: string, plain: string, word: string): number {
  const last = key.slice(key.lastIndexOf(".") + 1);
  if (last === word || key === word) return 5;
  if (last.startsWith(word)) return 4;
  if (plain.split(" ").some((part) => part.startsWith(word))) return 3;
  return key.includes(word) || plain.includes(word) ? 2 : 0;
}

/** The groups with only what fits, groups that are left empty gone; the order stays as it was. */
export function found<K extends Findable, G extends { name: string; keys: K[] }>(groups: readonly G[], typed: string): { name: string; keys: K[] }[] {
  return groups
    .map((g) => ({ name: g.name, keys: g.keys.filter((k) => fit(k, typed) > 0 || (typed.trim() !== "" && g.name.toLowerCase().includes(typed.trim().toLowerCase()))) }))
    .filter((g) => g.keys.length > 0);
}
