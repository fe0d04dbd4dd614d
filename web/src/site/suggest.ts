// Names that a person with cold fingers may mean.

/** Best first: the name itself, those that start so, those that start with the same letter and have
 *  the others in order, those that have it anywhere; among equals in the order given. */
export function suggest(typed: string, names: string[], most: number): string[] {
  const wanted = squeezed(typed);
  if (wanted === "") return [];
  const scored: { name: string; score: number; at: number }[] = [];
  names.forEach((name, at) => {
    const score = scoreOf(wanted, squeezed(name));
    if (score !== null) scored.push({ name, score, at });
  });
  scored.sort((a, b) => a.score - b.score || a.at - b.at);
  return scored.slice(0, most).map((s) => s.name);
}

/** The one that is meant without doubt; null: none, or several. */
export function meant(typed: string, names: string[]): string | null {
  const same = names.filter((name) => name === typed.trim());
  if (same.length === 1) return same[0] ?? null;
  const near = names.filter((name) => squeezed(name) === squeezed(typed));
  return near.length === 1 ? (near[0] ?? null) : null;
}

/** "Yard 3" and "yard-03" alike: small letters, no signs between, no leading zeroes. */
function squeezed(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}/]+/gu, "")
    .replace(/(^|\D)0+(?=\d)/g, "$1");
}

function scoreOf(wanted: string, name: string): number | null {
  if (name === wanted) return 0;
  if (name.startsWith(wanted)) return 1;
  let at = 0;
  for (const letter of wanted) {
    at = name.indexOf(letter, at) + 1;
    if (at === 0) return null;
  }
  if (name[0] === wanted[0]) return 2;
  return name.includes(wanted) ? 3 : 4;
}
