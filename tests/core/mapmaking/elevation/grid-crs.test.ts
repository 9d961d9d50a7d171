import { readFileSync } from "node:fs";
import proj4 from "proj4";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../../core/fault.ts";
import { findCrs, findEpsg } from "../../../../core/mapmaking/elevation/grid-crs.ts";
import { epsgRegister } from "../../../../electron/services/epsg-register.ts";

// code, name, longitude, latitude, easting, northing: by PROJ 9.1, make-systems.py beside the file.
const systems = JSON.parse(
  readFileSync(new URL("../../../fixtures/elevation/kinds/systems.json", import.meta.url), "utf8"),
) as (readonly [number, string, number, number, number, number])[];

/**
 * How far from PROJ, metres, where the datum is an old one: within the accuracy the EPSG dataset states for the
 * constants used here and for those PROJ chose. All others to a centimetre.
 */
const OLD: Readonly<Record<number, number>> = {
  31467: 3,
  31468: 3,
  5514: 10,
  23030: 10,
  26711: 10,
  2927: 2,
  3979: 2,
  27200: 4,
  20137: 10,
};

const metresApart = (a: readonly number[], lon: number, lat: number): number =>
  Math.hypot((a[0]! - lon) * 111_320 * Math.cos((lat * Math.PI) / 180), (a[1]! - lat) * 111_320);

describe("coordinate systems", () => {
  it("named by EPSG codes lie where PROJ has them, all over the world", async () => {
    expect(systems.length).toBeGreaterThan(35);
    for (const [code, name, lon, lat, x, y] of systems) {
      const crs = await findEpsg(code, epsgRegister);
      expect(crs, `${code} ${name}`).not.toBeNull();
      const back = proj4(crs!.proj, "EPSG:4326").forward([x, y]);
      expect(metresApart(back, lon, lat), `${code} ${name}`).toBeLessThan(OLD[code] ?? 0.01);
      const [west, south, east, north] = crs!.area ?? [-180, -90, 180, 90];
      expect(lon > west && lon < east && lat > south && lat < north, `${code} in its area`).toBe(true);
    }
  });

  it("are also named by PROJ definition and by WKT as in .prj files", async () => {
    // Esri's WKT of NAD83 / California zone 3 (ftUS), by gdalsrsinfo -o wkt_esri EPSG:2227.
    const esri =
      'PROJCS["NAD_1983_StatePlane_California_III_FIPS_0403_Feet",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Lambert_Conformal_Conic"],PARAMETER["False_Easting",6561666.66666667],PARAMETER["False_Northing",1640416.66666667],PARAMETER["Central_Meridian",-120.5],PARAMETER["Standard_Parallel_1",37.0666666666667],PARAMETER["Standard_Parallel_2",38.4333333333333],PARAMETER["Latitude_Of_Origin",36.5],UNIT["US survey foot",0.304800609601219]]';
    const [, , lon, lat, x, y] = systems.find(([code]) => code === 2227)!;
    const crs = await findCrs(esri, "model.prj");
    expect(metresApart(proj4(crs.proj, "EPSG:4326").forward([x, y]), lon, lat)).toBeLessThan(0.01);
    const coded = await findCrs('GEOGCS["WGS 84",AUTHORITY["EPSG","4326"]]', "model.prj", epsgRegister);
    expect(coded.name).toBe("EPSG:4326");
    expect((await findCrs(" epsg:32633 ", "here")).proj).toContain("+zone=33");
    const british = await findCrs("EPSG:27700", "here", epsgRegister);
    expect(british.datumUnknown).toBeUndefined();
  });

  it("whose datum lies nobody knows where say so", async () => {
    // EPSG:30493, Voirol 1879: the register gives no way to WGS 84.
    expect((await findEpsg(30493, epsgRegister))?.datumUnknown).toBe(true);
  });

  it("that are none are refused with a remedy", async () => {
    for (const text of [
      "EPSG:1",
      "EPSG:5703",
      "+proj=nothing",
      "UTM 11",
      "",
      "Projection UTM\nZone 11\nUnits METERS",
    ]) {
      const fault = await findCrs(text, "model.prj", epsgRegister).then(
        () => null,
        (thrown: unknown) => Fault.from(thrown),
      );
      expect(fault?.code, text).toBe("no-crs");
      expect(fault?.where).toBe("model.prj");
      expect(fault?.remedy).toContain("EPSG:32611");
    }
  });
});
