/**
 * What somebody decided about the reserve: names, and where ways and works were wanted. Places are metres on the sheet;
 * the rules move them onto the ground (the nearest way, summit, stream mouth) where it says so.
 * Every name here is made up.
 */
import type { Place } from "../terrain/recipe.ts";
import type { BoundaryCorner } from "./boundary.ts";
import type { BuildingPlan } from "./buildings.ts";
import type { StreamName } from "./streams.ts";
import type { Farmland } from "./walls.ts";
import type { WayPlan } from "./ways.ts";

const km = (east: number, north: number): Place => [east * 1000, north * 1000];

export const RESERVE = "Uldermoor Reserve";
export const LAKE_NAME = "Ulder Water";

/** By a place about halfway along each. */
export const STREAM_NAMES: readonly StreamName[] = [
  { name: "River Ulder", along: km(4.87, 2.45) },
  { name: "River Pell", along: km(2.08, 4.36) },
  { name: "Hesk Beck", along: km(6.21, 1.42) },
  { name: "Thorrow Beck", along: km(1.72, 7.63) },
  { name: "Kell Sike", along: km(6.81, 5.03) },
  { name: "Merle Gill", along: km(9.71, 3.74) },
  { name: "Lowder Gill", along: km(9.1, 3.77) },
  { name: "Wether Beck", along: km(9.98, 4.54) },
  { name: "Stanner Gill", along: km(10.42, 5.88) },
  { name: "Birk Sike", along: km(9.97, 5.71) },
  { name: "Linnet Sike", along: km(10.96, 7.02) },
  { name: "Cotter Beck", along: km(9.2, 7.84) },
  { name: "Sallin Gill", along: km(8.03, 6.06) },
  { name: "Knott Gill", along: km(7.35, 5.95) },
  { name: "Moss Beck", along: km(7.72, 3.88) },
  { name: "Nab Gill", along: km(4.95, 4.06) },
  { name: "Long Gill", along: km(5.85, 4.58) },
  { name: "Rigg Beck", along: km(4.56, 6.55) },
  { name: "Gorse Sike", along: km(1.22, 3.33) },
  { name: "Hagg Gill", along: km(2.4, 4.94) },
  { name: "Drove Beck", along: km(1.17, 4.52) },
  { name: "Wescar Beck", along: km(1.35, 6.12) },
  { name: "Swinnel Sike", along: km(2.9, 2.29) },
  { name: "Toft Beck", along: km(3.09, 0.76) },
  { name: "Lodge Gill", along: km(9.45, 1.28) },
  { name: "Harrack Gill", along: km(10.77, 1.11) },
];

export const SUMMIT_NAMES: readonly (readonly [name: string, near: Place])[] = [
  ["Harrack", km(11.2, 2.87)],
  ["Great Thorrow", km(6.76, 8.68)],
  ["Stanner Pike", km(11.62, 5.14)],
  ["Wescar", km(0.29, 6.75)],
  ["Pell Nab", km(3.43, 4.07)],
  ["Gorse Law", km(1.65, 2.45)],
  ["Hest Rigg", km(4.52, 7.2)],
  ["Hagg Rigg", km(2.79, 7.94)],
  ["Lowder Knott", km(7.48, 2.37)],
  ["Fallow Knott", km(8.4, 7.07)],
  ["Swinnel", km(2.73, 1.77)],
  ["Toft Howe", km(3.5, 0.69)],
];

export const WOOD_NAMES: readonly (readonly [name: string, near: Place])[] = [
  ["Thorrow Hagg", km(1.1, 8.0)],
  ["Pell Hagg", km(2.6, 4.3)],
  ["Head Shaw", km(2.8, 6.5)],
  ["Nab Wood", km(5.0, 5.1)],
  ["Bridge Wood", km(5.5, 3.1)],
  ["Kell Wood", km(6.6, 5.9)],
  ["Merle Wood", km(8.0, 3.4)],
  ["Cotter Shaw", km(10.7, 7.3)],
  ["Fallow Wood", km(8.5, 7.6)],
  ["Stanner Birks", km(10.7, 5.1)],
  ["Hesk Spring", km(8.4, 1.5)],
  ["Gorse Wood", km(0.7, 1.5)],
  ["Harrack Foot", km(11.0, 1.4)],
];

export const WETLAND_NAMES: readonly (readonly [name: string, near: Place])[] = [
  ["Foot Moss", km(7.15, 3.95)],
  ["Cotter Moss", km(10.3, 8.1)],
  ["Meetings Moss", km(4.65, 1.8)],
  ["Hesk Mire", km(10.1, 0.4)],
];

export const CLIFF_NAMES: readonly (readonly [name: string, near: Place])[] = [
  ["Merle Scar", km(9.95, 3.1)],
  ["Harrack Crag", km(10.6, 2.35)],
  ["Stanner Edge", km(11.35, 4.75)],
  ["Gorse Crag", km(1.45, 1.95)],
  ["Nab Scar", km(3.0, 3.66)],
];
/** Birds nest on this one: the ground around it is closed. */
export const CLOSED_CLIFF = "Merle Scar";
export const CLOSED_NAME = "Merle Scar nesting ground";

export const DALE_NAMES: readonly (readonly [name: string, at: Place])[] = [
  ["Ulderdale", km(5.1, 1.9)],
  ["Pelldale", km(1.8, 5.2)],
  ["Heskdale", km(7.6, 1.25)],
  ["Upper Ulder", km(9.85, 6.6)],
  ["Uldermoor", km(5.9, 7.2)],
  ["Thorrow Flats", km(6.3, 8.05)],
];

/** Where the sheet itself says what it is: a corner shown alone still says it. */
export const INVENTED_AT: readonly Place[] = [
  km(6.0, 8.55),
  km(1.0, 3.55),
  km(6.3, 0.55),
  km(10.6, 6.2),
  km(3.75, 5.45),
  km(9.75, 3.8),
];

/** Where ways cross rivers: a way's only dry crossings of them. */
export const BRIDGES: readonly { readonly name: string; readonly over: string; readonly near: Place }[] = [
  { name: "Pell Bridge", over: "River Pell", near: km(4.33, 1.42) },
  { name: "Ulder Bridge", over: "River Ulder", near: km(5.42, 3.1) },
  { name: "Kell Bridge", over: "River Ulder", near: km(6.9, 3.95) },
  { name: "Foot Bridge", over: "River Ulder", near: km(7.27, 4.14) },
  { name: "Stanner Bridge", over: "River Ulder", near: km(9.8, 6.0) },
  { name: "Drove Bridge", over: "River Pell", near: km(2.05, 4.3) },
];

export const WAYS: readonly WayPlan[] = [
  {
    class: "road",
    name: "Dale Road",
    via: [
      km(3.75, 0.012),
      km(4.33, 1.42),
      km(5.42, 3.1),
      km(7.1, 3.6),
      km(8.9, 4.2),
      km(9.7, 5.6),
      km(10.35, 9.012),
    ],
  },
  {
    class: "track",
    name: "Pell Drove",
    via: [km(4.45, 1.6), km(2.1, 3.9), km(2.3, 5.9), km(2.9, 7.0)],
    joins: { start: true },
  },
  {
    class: "track",
    name: "Kell Track",
    via: [km(6.85, 3.7), km(6.75, 4.6), km(6.9, 5.5)],
    joins: { start: true },
  },
  {
    class: "track",
    name: "Hesk Track",
    via: [km(5.35, 2.95), km(5.55, 2.35), km(7.1, 1.25), km(9.6, 0.75)],
    joins: { start: true },
  },
  {
    class: "path",
    name: null,
    via: [km(6.9, 5.5), km(6.1, 6.5), km(4.0, 6.6), km(2.9, 7.0)],
    joins: { start: true, end: true },
  },
  {
    class: "path",
    name: "Moor Edge Path",
    via: [km(6.75, 8.6), km(6.1, 6.5), km(4.5, 5.5), km(3.45, 4.1), km(4.2, 1.7)],
    joins: { end: true },
  },
  {
    class: "path",
    name: "Shore Path",
    via: [km(7.2, 3.65), km(7.27, 4.14), km(8.0, 5.6), km(9.7, 6.1)],
    joins: { start: true, end: true },
  },
  {
    class: "path",
    name: "Harrack Path",
    via: [km(8.95, 4.15), km(9.9, 3.9), km(11.2, 2.87), km(11.62, 5.14)],
    joins: { start: true },
  },
  {
    class: "path",
    name: "Lowder Path",
    via: [km(7.1, 3.6), km(7.48, 2.36), km(7.1, 1.25)],
    joins: { start: true, end: true },
  },
  { class: "path", name: null, via: [km(2.1, 4.3), km(0.012, 4.5)], joins: { start: true } },
  {
    class: "path",
    name: null,
    via: [km(11.2, 2.87), km(11.4, 1.2), km(9.6, 0.75)],
    joins: { start: true, end: true },
  },
  {
    class: "path",
    name: null,
    via: [km(6.75, 8.6), km(8.8, 8.0), km(10.2, 7.9)],
    joins: { start: true, end: true },
  },
  {
    class: "path",
    name: null,
    via: [km(8.9, 4.15), km(8.9, 3.3), km(8.35, 2.55), km(7.3, 2.6)],
    joins: { start: true, end: true },
  },
  {
    class: "path",
    name: null,
    via: [km(5.75, 2.2), km(6.6, 2.6), km(7.0, 3.4)],
    joins: { start: true, end: true },
  },
  { class: "path", name: null, via: [km(2.6, 2.8), km(1.65, 2.45)], joins: { start: true } },
  { class: "path", name: null, via: [km(8.35, 2.55), km(8.3, 1.1)], joins: { start: true, end: true } },
];

export const FARMS: readonly Farmland[] = [
  { middle: km(5.6, 2.2), radiusM: 1500, headM: 34, everyM: 420 },
  { middle: km(7.0, 3.3), radiusM: 900, headM: 40, everyM: 500 },
];

export const POWER_LINE: readonly Place[] = [
  km(4.95, 0.006),
  km(5.32, 1.72),
  km(6.38, 3.24),
  km(6.62, 4.95),
  km(7.62, 6.42),
  km(9.3, 7.95),
  km(10.9, 9.018),
];

/** A planted wood with straight edges, fenced. */
export const PLANTATION: { readonly name: string; readonly ring: readonly Place[] } = {
  name: "Swinnel Plantation",
  ring: [
    km(2.42, 1.28),
    km(3.02, 1.06),
    km(3.36, 1.24),
    km(3.28, 1.55),
    km(2.86, 1.7),
    km(2.5, 1.62),
    km(2.42, 1.28),
  ],
};

/**
 * The reserve's edge: down the River Pell from near the first place to its mouth, then from corner to corner back to
 * there, straight or along the ridges.
 */
export const BOUNDARY: {
  readonly river: string;
  readonly from: Place;
  readonly corners: readonly BoundaryCorner[];
} = {
  river: "River Pell",
  from: km(2.35, 6.05),
  corners: [
    { at: km(5.28, 2.72), by: "straight" },
    { at: km(6.1, 2.93), by: "straight" },
    { at: km(7.48, 2.37), by: "ridge" },
    { at: km(11.2, 2.87), by: "ridge" },
    { at: km(11.62, 5.14), by: "ridge" },
    { at: km(9.8, 5.99), by: "ridge" },
    { at: km(8.4, 7.07), by: "ridge" },
    { at: km(6.76, 8.68), by: "ridge" },
    { at: km(4.52, 7.2), by: "ridge" },
    { at: km(3.2, 6.55), by: "ridge" },
    { at: km(2.35, 6.05), by: "straight" },
  ],
};

export const BUILDINGS: readonly BuildingPlan[] = [
  { name: "Ulder Bunkhouse", class: "bunkhouse", near: km(7.12, 3.55), offM: 30, lengthM: 28, widthM: 12 },
  { name: "Warden's House", class: "house", near: km(5.52, 3.08), offM: 28, lengthM: 16, widthM: 11 },
  { name: "Garth End", class: "farm", near: km(5.78, 2.12), offM: 26, lengthM: 22, widthM: 10 },
  { name: null, class: "barn", near: km(5.84, 2.06), offM: 30, lengthM: 26, widthM: 13 },
  { name: null, class: "barn", near: km(5.8, 2.05), offM: 62, lengthM: 18, widthM: 10 },
  { name: "Hesk Lodge", class: "house", near: km(9.55, 0.8), offM: 26, lengthM: 20, widthM: 11 },
  { name: "Kell Shieling", class: "ruin", near: km(6.9, 5.45), offM: 24, lengthM: 12, widthM: 7 },
  { name: "Thorrow Hut", class: "hut", near: km(6.1, 6.5), offM: 22, lengthM: 11, widthM: 8 },
  { name: "Pell Barn", class: "barn", near: km(2.15, 3.9), offM: 24, lengthM: 20, widthM: 10 },
  { name: "Pell Head", class: "farm", near: km(2.35, 6.2), offM: 28, lengthM: 22, widthM: 11 },
  { name: "Boathouse", class: "boathouse", near: km(8.1, 4.245), offM: 56, lengthM: 14, widthM: 8 },
  { name: "Mouth Cottages", class: "house", near: km(4.1, 0.6), offM: 24, lengthM: 24, widthM: 9 },
  { name: "Cotter House", class: "farm", near: km(10.15, 7.6), offM: 30, lengthM: 22, widthM: 12 },
];
