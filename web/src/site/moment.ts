// Moments as the daybook writes them: ISO 8601 with the zone, to the second.

const two = (n: number): string => String(Math.trunc(Math.abs(n))).padStart(2, "0");

/** `zone_min`: east of Greenwich. */
export function momentText(time_ms: number, zone_min: number): string {
  const there = new Date(Math.floor(time_ms / 1000) * 1000 + zone_min * 60_000);
  const zone = (zone_min < 0 ? "-" : "+") + two(zone_min / 60) + ":" + two(zone_min % 60);
  return there.toISOString().slice(0, 19) + zone;
}

/** Zone of this phone at a time. */
export function zoneHere(time_ms: number): number {
  return -new Date(time_ms).getTimezoneOffset();
}

export function readMoment(text: string): number | null {
  const time = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)$/.test(text) ? Date.parse(text) : NaN;
  return Number.isNaN(time) ? null : time;
}

/** How far the server's clock is ahead of this one. */
export function clockAhead(serverNow: string, phone_ms: number): number {
  const server = readMoment(serverNow);
  return server === null ? 0 : server - phone_ms;
}

/** "14:20" of the same day, "5 March, 14:20" of another, as it was on the clock of the place. */
export function shortTime(text: string, today: string): string {
  const found = /^(\d{4})-(\d\d)-(\d\d)T(\d\d:\d\d)/.exec(text);
  if (found === null) return text;
  const [, year = "", month = "", day = "", clock = ""] = found;
  if (text.slice(0, 10) === today.slice(0, 10)) return clock;
  const date = `${Number(day)} ${kMonths[Number(month) - 1] ?? month}`;
  return year === today.slice(0, 4) ? `${date}, ${clock}` : `${date} ${year}, ${clock}`;
}

/** The moments within a sentence, on this phone's own clock. */
export function onThisClock(text: string, today: string): string {
  return text.replace(/\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:Z|[+-]\d\d:\d\d)/g, (stamp) => {
    const own = here(stamp);
    return `${shortTime(own, here(today))}${own.slice(16, 19)}`; // two of one minute are told apart
  });
}
/** The same moment as this phone's clock has it. */
export function here(stamp: string): string {
  const time = readMoment(stamp);
  return time === null ? stamp : momentText(time, zoneHere(time));
}

const kMonths = [
  "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December",
];

/** "40 minutes", "3.5 hours", "6 days". */
export function lasting(seconds: number): string {
  const say = (n: number, unit: string): string => `${n} ${unit}${n === 1 ? "" : "s"}`;
  if (seconds < 3600) return say(Math.max(1, Math.round(seconds / 60)), "minute");
  if (seconds < 2 * 86400) return say(Math.round(seconds / 360) / 10, "hour");
  return say(Math.round(seconds / 8640) / 10, "day");
}
