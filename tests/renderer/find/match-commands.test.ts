import { expect, test } from "vitest";
import { matchCommands } from "../../../renderer/find/match-commands.ts";

const NAMED = [
  ["print", "Print…"],
  ["slope", "Shade the ground by slope"],
  ["ground", "What is this ground"],
  ["save", "Save"],
  ["save-as", "Save as…"],
] as const;

test.each([
  ["pri", ["print"]],
  ["slope shade", ["slope"]],
  ["GROUND", ["ground", "slope"]],
  ["save", ["save", "save-as"]],
  ["lope", []],
  ["p", []],
  ["…", []],
  ["print walk", []],
])("%j means %j", (text, ids) => {
  expect(matchCommands(text, NAMED, ([, name]) => name).map(([id]) => id)).toEqual(ids);
});
