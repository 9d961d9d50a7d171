/** Files of many kinds as GDAL wrote them, held to GDAL's own reading of them; fixtures and commands: tests/fixtures/elevation/kinds. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { Fault, type FaultRecord } from "../../../../core/fault.ts";
import { type ElevationFile, memoryFile } from "../../../../core/mapmaking/elevation/elevation-model.ts";
import { openModel, readModels } from "../../../../core/mapmaking/elevation/read-elevation.ts";
import { epsgRegister } from "../../../../electron/services/epsg-register.ts";

const folder = new URL("../../../fixtures/elevation/kinds/", import.meta.url);
const bytesOf = (name: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(readFileSync(new URL(name, folder)));
const prj = new TextDecoder().decode(bytesOf("corner.prj"));
const fixture = (name: string): ElevationFile =>
  memoryFile(name, bytesOf(name), name.endsWith(".asc") ? prj : null);

interface Told {
  readonly unit: string;
  readonly origin: readonly [number, number];
  readonly step: readonly [number, number];
  readonly size: readonly [number, number];
  readonly heights: readonly (number | null)[];
}
const told = JSON.parse(new TextDecoder().decode(bytesOf("values.json"))) as Record<string, Told>;

const METRES: Readonly<Record<string, number>> = {
  "": 1,
  m: 1,
  metre: 1,
  ft: 0.3048,
  "US survey foot": 1200 / 3937,
};

describe("a model stored in another way", () => {
  for (const [name, values] of Object.entries(told).filter(([each]) => each !== "mosaic"))
    it(`is the same: ${name}`, async () => {
      const { grid } = await readModels([fixture(name)], { epsg: epsgRegister });
      expect([grid.columns, grid.rows]).toEqual(values.size);
      for (const axis of [0, 1] as const) {
        // To a thousandth of a cell.
        const cell = Math.abs(values.step[axis]);
        expect(Math.abs(grid.origin[axis] - values.origin[axis])).toBeLessThan(cell / 1000);
        expect(Math.abs(grid.step[axis] - values.step[axis])).toBeLessThan(cell * 1e-5);
      }
      const unitM = METRES[values.unit]!;
      let voids = 0;
      for (const [i, theirs] of values.heights.entries()) {
        const ours = grid.heights[7 * i]!;
        if (theirs === null) {
          expect(ours).toBeNaN();
          voids++;
        } else expect(Math.abs(ours - theirs * unitM)).toBeLessThan(1e-3);
      }
      if (name === "nodata.tif" || name === "feet-us-key.tif") expect(voids).toBeGreaterThan(0);
    });

  it("may be told to be in feet, or in metres against what it says", async () => {
    const plain = (await readModels([fixture("uint16-deflate.tif")])).grid.heights;
    const feet = (await readModels([fixture("uint16-deflate.tif")], { heightUnit: "ft" })).grid.heights;
    // The international foot is 0.3048 m by definition.
    expect(feet[5]).toBeCloseTo(plain[5]! * 0.3048, 3);
    const insisted = (await readModels([fixture("feet-note.tif")], { heightUnit: "m" })).grid.heights;
    expect(insisted[5]).toBeCloseTo(plain[5]! / 0.3048, 2);
  });
});

describe("what holds no model of heights", () => {
  const faultOf = async (file: ElevationFile): Promise<FaultRecord> => {
    try {
      await readModels([file]);
    } catch (thrown) {
      return Fault.from(thrown).toRecord();
    }
    throw new Error("no fault");
  };
  it("is refused by name: several bands, words, nothing", async () => {
    const bands = await faultOf(fixture("two-bands.tif"));
    expect(bands).toMatchObject({ code: "bad-elevation", where: "two-bands.tif" });
    expect(bands.what).toContain("2 bands");
    expect(bands.remedy).toContain("gdal_translate -b 1");
    expect((await faultOf(memoryFile("notes.txt", new TextEncoder().encode("Dear reader")))).what).toContain(
      "no elevation model of a kind",
    );
    expect((await faultOf(memoryFile("empty.tif", new Uint8Array(0)))).what).toContain("empty");
  });

  it("reads nothing but the blocks it needs", async () => {
    const file = fixture("int16-lzw-tiles.tif");
    let read = 0;
    const counted = {
      ...file,
      read: (offset: number, length: number) => ((read += length), file.read(offset, length)),
    };
    const model = await openModel(counted, {});
    read = 0;
    await model.heights({ column: 17, row: 1, columns: 10, rows: 10 });
    // One of six tiles.
    expect(read).toBeLessThan(file.sizeBytes / 3);
  });
});
