/** Roles a person set: which can be, and when they still fit. The archive is real: see tests/fixtures/open-tiles. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { VectorTile } from "@mapbox/vector-tile";
import { PbfReader } from "pbf";
import { describe, expect, it } from "vitest";
import { type ArchiveFacts, archiveFacts } from "../../../core/map/archive-facts.ts";
import { openArchive } from "../../../core/map/archive.ts";
import { openMap } from "../../../core/map/open-map.ts";
import { type RememberedRoles, roleProblems, rolesOf, settleRoles } from "../../../core/map/set-roles.ts";
import { bytesSource } from "../../../core/map/source.ts";

const FLORENCE = fileURLToPath(new URL("../../fixtures/open-tiles/florence.pmtiles", import.meta.url));
const source = bytesSource("florence.pmtiles", new Uint8Array(readFileSync(FLORENCE)));
const facts: ArchiveFacts = await archiveFacts(source);
const layers = facts.layers.map(({ name }) => name);
const roles = { rail: { layer: "roads" }, stream: { layer: "physical_line" } };
const remembered: RememberedRoles = { id: facts.id, fingerprint: facts.fingerprint, layers, roles };

/** Every road's kind, by the tile reader itself. */
const archive = await openArchive(source);
const counted: unknown[] = [];
for (const x of [4352, 4353]) {
  const bytes = await archive.readTile(13, x, 2987);
  const layer = bytes && new VectorTile(new PbfReader(bytes)).layers["roads"];
  for (let i = 0; i < (layer?.length ?? 0); i++) counted.push(layer?.feature(i).properties["pmap:kind"]);
}

describe("an archive's facts", () => {
  it("tell layers, fields and values as the tiles have them", () => {
    expect(facts.rolesFrom).toBe("guess");
    const roads = facts.layers.find(({ name }) => name === "roads");
    expect(roads?.features).toBe(counted.length);
    const kinds = roads?.fields.find(({ name }) => name === "pmap:kind")?.values ?? [];
    const minor = counted.filter((kind) => kind === "minor_road").length;
    expect(minor).toBeGreaterThan(0);
    expect(kinds).toContainEqual({ value: "minor_road", features: minor });
    expect(kinds).toEqual([...kinds].sort((a, b) => b.features - a.features));
  });
});

describe("roles set by a person", () => {
  it("decide what features are", async () => {
    const box = (await openMap(source)).info.bounds;
    const kindsWith = async (set: typeof roles | null): Promise<Set<string>> => {
      const map = await openMap(source, {}, set);
      await map.prepare(box);
      expect(map.info.rolesFrom).toBe(set ? "user" : "guess");
      return new Set(map.lines(box).map(({ kind }) => kind));
    };
    expect(await kindsWith(null)).toContain("road");
    const set = await kindsWith(roles);
    expect(set).toContain("rail");
    expect(set).not.toContain("road");
  });

  it("are told in sentences when they cannot be", () => {
    const found = roleProblems(
      {
        contour: { layer: "physical_line" },
        road: { layer: "streets", where: { field: "kind", in: [] } },
        path: { layer: "roads", also: [{ layer: "roads" }] },
      },
      facts.layers,
    );
    expect(found.map(({ role }) => role)).toEqual(["contour", "path", "road", "road"]);
    for (const { what } of found) expect(what).toMatch(/^[A-Z].*\.$/);
    expect(roleProblems(facts.roles, facts.layers)).toEqual([]);
  });

  it("are read from JSON as far as they make sense", () => {
    expect(rolesOf({ road: { layer: "roads", also: [3] }, nonsense: 1 })).toEqual({
      road: { layer: "roads" },
    });
    expect(rolesOf({})).toEqual({});
    expect(rolesOf([])).toBeNull();
  });
});

describe("remembered roles", () => {
  it("hold for the very archive, without a word", () => {
    expect(settleRoles([remembered], facts)).toEqual({ roles, notices: [] });
    expect(settleRoles([{ ...remembered, id: "other" }], facts)).toEqual({ roles: null, notices: [] });
  });

  it("are taken over for another of the same id only with a notice, without layers that vanished", () => {
    const older = {
      ...remembered,
      fingerprint: "older",
      layers: [...layers, "pistes"],
      roles: { ...roles, path: { layer: "pistes" }, road: { layer: "pistes", also: [{ layer: "roads" }] } },
    };
    const settled = settleRoles([older], facts);
    expect(settled.roles).toEqual({ ...roles, road: { layer: "roads" } });
    expect(settled.notices).toHaveLength(2);
    expect(settled.notices.join(" ")).toContain("pistes");
    // The archive's own memory comes first.
    expect(settleRoles([remembered, older], facts).notices).toEqual([]);
  });

  it("are not taken over by an archive with other layers", () => {
    const stranger = { ...remembered, fingerprint: "x", layers: ["a", "b", "roads"] };
    const { roles: none, notices } = settleRoles([stranger], facts);
    expect(none).toBeNull();
    expect(notices).toHaveLength(1);
  });
});
