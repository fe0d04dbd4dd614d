// What /api/daybook says (docs/lodge.md, "The daybook on a phone").

import type { Point } from "../api";

export interface Copy {
  name: string;
  copy: number;
  standing: string;
  checked: boolean;
  since: string | null;
}
export interface DayBlock {
  id: string;
  order: number;
  mass_kg: number;
  made: string;
  up: string;
  centre_m: Point;
  needs: string[];
  joints: string[];
  standing: string;
  name: string; // of the copy that counts
  copies: Copy[];
}
export interface DayEvent {
  number: number;
  name: string;
  block: string;
  copy: number;
  event: string;
  when: string;
  written: string;
  who: string | null;
  note: string | null;
  photo: string | null;
  cancels: number | null;
  taken_back: boolean;
}
export interface Missing {
  name: string;
  standing: string;
  ready_s: number;
  held_back: number;
  held_on_site: number;
}
export interface Daybook {
  bridge: string;
  title: string;
  assembly: string;
  now: string;
  number: number;
  placed: number;
  on_site: number;
  broken: number;
  next: string | null;
  alarm?: string; // that the struck arch lacks blocks; "": it does not
  under_placed?: string[]; // on site, but under what is in place, in words
  works_before?: string[]; // not recorded, and before anything is placed
  centring?: string; // what has to come first of all, in words; "": nothing; not there in answers kept from before
  can_be_placed: string[];
  not_yet: string[];
  placed_over?: { block: string; missing: string[] }[]; // not there in answers kept from before
  missing: Missing | null;
  blocks: DayBlock[];
  works: { id: string; done: boolean }[];
  events: DayEvent[];
}

export interface Neighbour {
  id: string;
  ground: boolean;
  standing: string | null;
  in_place: boolean;
}
export interface Step {
  id: string;
  kind: string;
  after: { id: string; work: boolean; done: boolean }[];
  likely_end: string | null;
}
export interface NextEvent {
  event: string;
  allowed: boolean;
  even_so: boolean;
  objection: { found: string; expected: string; says: string } | null;
}
export interface WorkPage {
  name: string;
  work: true;
  standing: string;
  since: string | null;
  steps: Step[];
  next: NextEvent[];
  events: DayEvent[];
}
export interface CopyPage extends Copy {
  work: false;
  block: string;
  order: number;
  of: number;
  mass_kg: number;
  made: string;
  up: string;
  centre_m: Point;
  on: Neighbour[];
  then: Neighbour[];
  needs: Neighbour[];
  slings_m: Point[];
  held_by?: string | null; // not there in answers kept from before; "slings", "slings and straps", "cradle"
  strap_n?: number;
  wind_m_s: number | null;
  label: string;
  copies: Copy[];
  next_copy: string;
  steps: Step[];
  next: NextEvent[];
  events: DayEvent[];
}
export type BlockPage = CopyPage | WorkPage;

export interface Drawn {
  id: string;
  ground: boolean;
  rings: [number, number][][];
}
export interface Picture {
  plan: Drawn[];
  sides: { title: string; blocks: Drawn[] }[];
}
export interface PictureAnswer {
  assembly: string;
  of_the_plan?: boolean;
  picture: Picture | null;
}
export interface Written {
  number: number;
  events: DayEvent[];
  written_before?: DayEvent[];
}
