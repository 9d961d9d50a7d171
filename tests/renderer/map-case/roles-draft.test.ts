/** The table of roles as edited: what is put in comes out again. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { archiveFacts } from "../../../core/map/archive-facts.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { rolesOfRows, rowsOf } from "../../../renderer/map-case/roles-draft.ts";

const FLORENCE = fileURLToPath(new URL("../../fixtures/open-tiles/florence.pmtiles", import.meta.url));
const facts = await archiveFacts(bytesSource("florence", new Uint8Array(readFileSync(FLORENCE))));

it("a row stands for each use of a layer, and for each layer that is not used; the rows give the roles back", () => {
  const rows = rowsOf(facts.roles, facts.layers);
  expect(new Set(rows.map(({ layer }) => layer))).toEqual(new Set(facts.layers.map(({ name }) => name)));
  expect(rows.filter(({ layer }) => layer === "roads").length).toBeGreaterThan(1);
  const back = rolesOfRows(rows);
  expect(Object.keys(back)).toEqual(Object.keys(facts.roles));
  expect(back.road?.where).toEqual(facts.roles.road?.where);
});

it("a typed number or truth counts as a word as well", () => {
  const [row] = rowsOf({ path: { layer: "roads" } }, [{ name: "roads" }]);
  const conditions = [{ field: "level", values: " 2, true ,path,, 2" }];
  expect(rolesOfRows(row ? [{ ...row, conditions }] : []).path).toEqual({
    layer: "roads",
    where: { field: "level", in: ["2", 2, "true", true, "path"] },
  });
});
