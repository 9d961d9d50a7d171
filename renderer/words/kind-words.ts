/** What things on the ground are called in a sentence. */
import type { Kind } from "../../core/map/kinds.ts";

const KIND_WORDS: Record<Kind, string> = {
  stream: "stream", river: "river", water: "water", shore: "shore", path: "path", road: "road", rail: "railway",
  wall: "wall", fence: "fence", powerLine: "power line", cliff: "cliff", wetland: "wetland", wood: "wood",
  woodEdge: "edge of the wood", building: "building", boundary: "boundary", restricted: "closed area", peak: "summit",
  spotHeight: "spot height", ridge: "ridge", valley: "valley", spur: "spur", draw: "draw", saddle: "saddle",
  hill: "hill", depression: "depression", junction: "junction", confluence: "confluence", bend: "bend",
  corner: "corner", steep: "steep ground", rise: "rise", drop: "drop", contour: "contour",
};

export const kindWord = (kind: Kind): string => KIND_WORDS[kind];

/** Its own name, or what it is: "Sallow Water", "stream". */
export const thingName = (kind: Kind, name: string | null): string => name ?? KIND_WORDS[kind];

/** As in a sentence: "Sallow Water", "the stream". */
export const theThing = (kind: Kind, name: string | null): string => name ?? `the ${KIND_WORDS[kind]}`;
