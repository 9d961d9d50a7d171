import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import { parsePosition } from "../../../core/geodesy/parse-position.ts";
import { fromUtm } from "../../../core/geodesy/utm.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

const ZURICH: LonLat = [8.5417, 47.3769];
const DENVER: LonLat = [-104.9903, 39.7392];
const SYDNEY: LonLat = [151.2093, -33.8688];

const apart = (a: LonLat, b: LonLat): number => inverse(a, b).distanceM;

const faultOf = (text: string, near: LonLat | null = null): Fault => {
  try {
    parsePosition(text, near);
  } catch (thrown) {
    if (thrown instanceof Fault) return thrown;
    throw thrown;
  }
  throw new Error(`“${text}” was read`);
};

describe("latitude and longitude in every usual way", () => {
  // One place: 47.3769 N 8.5417 E is 47° 22.614′, 8° 32.502′, and 47° 22′ 36.84″, 8° 32′ 30.12″ (by hand).
  test.each([
    "47.3769, 8.5417",
    "47.3769 8.5417",
    "47.3769,8.5417",
    "47.3769;8.5417",
    "47.3769 / 8.5417",
    "+47.3769 +8.5417",
    "+47.3769+008.5417/",
    "(47.3769, 8.5417)",
    "geo:47.3769,8.5417;u=35",
    "47,3769 8,5417",
    "47,3769; 8,5417",
    "47,3769, 8,5417",
    "47,3769° 8,5417°",
    "47.3769N 8.5417E",
    "47.3769 N, 8.5417 E",
    "N47.3769 E8.5417",
    "N 47.3769, E 8.5417",
    "8.5417E 47.3769N",
    "E8.5417 N47.3769",
    "47.3769° N 8.5417° E",
    "47.3769°N, 8.5417°E",
    "47.3769º n 8.5417˚ e",
    "47.3769 north 8.5417 east",
    "North 47.3769 East 8.5417",
    "lat 47.3769 lon 8.5417",
    "Lat: 47.3769, Long: 8.5417",
    "longitude=8.5417 latitude=47.3769",
    "Lat: 47.3769 N, Lng: 8.5417 E",
    "lat 47,3769 lon 8,5417",
    "47 22.614 8 32.502",
    "47 22.614, 8 32.502",
    "47° 22.614' 8° 32.502'",
    "47°22.614′N 8°32.502′E",
    "N47°22.614' E8°32.502'",
    "N 47 22,614 E 8 32,502",
    "47 22,614 8 32,502",
    "47:22.614 8:32.502",
    "47d22.614m N 8d32.502m E",
    "47°22,614' 8°32,502'",
    "47 22 36.84 8 32 30.12",
    "47 22 36.84, 8 32 30.12",
    "47°22'36.84\"N 8°32'30.12\"E",
    "47° 22′ 36.84″ N 8° 32′ 30.12″ E",
    "47º22’36.84”N, 8º32’30.12”E",
    "47°22'36.84'' N 8°32'30.12'' E",
    "47°22′36.84′′N 8°32′30.12′′E",
    "47:22:36.84N 8:32:30.12E",
    "47:22:36.84, 8:32:30.12",
    "47d22m36.84sN 8d32m30.12sE",
    "47deg 22min 36.84sec N 8deg 32min 30.12sec E",
    "47 22 36.84N 008 32 30.12E",
    "N 47 22 36.84 E 8 32 30.12",
    "\u200e47.3769,\u00a08.5417\u200e",
    "  47.3769\t8.5417\n",
  ])("%j", (text) => {
    const { lonLat } = parsePosition(text);
    expect(apart(lonLat, ZURICH)).toBeLessThan(0.01);
    // A reference place changes nothing for a whole position.
    expect(parsePosition(text, [9, 47]).lonLat).toEqual(lonLat);
  });

  test.each([
    ["-33.8688, 151.2093", SYDNEY],
    ["−33.8688 151.2093", SYDNEY],
    ["33.8688S 151.2093E", SYDNEY],
    ["33 52 7.68 S 151 12 33.48 E", SYDNEY],
    ["S33°52.128' E151°12.558'", SYDNEY],
    ["33d52m7.68sS 151d12m33.48sE", SYDNEY],
    ["-33 52 7.68, 151 12 33.48", SYDNEY],
    ["39.7392 -104.9903", DENVER],
    ["39.7392, - 104.9903", DENVER],
    ["39.7392N 104.9903W", DENVER],
    ["W104.9903 N39.7392", DENVER],
    ["+39.7392-104.9903/", DENVER],
    ["39°44'21.12\"N 104°59'25.08\"W", DENVER],
    ["-0° 30' 0\", -0 15", [-0.25, -0.5]],
    ["0,0", [0, 0]],
    ["90 -180", [-180, 90]],
    ["47 8", [8, 47]],
    ["47, 8", [8, 47]],
    ["47,8", [8, 47]],
    ["47 8.5", [8.5, 47]],
  ] as const)("%j", (text, place) => expect(apart(parsePosition(text).lonLat, place)).toBeLessThan(0.01));

  test("the notation is reported", () => {
    expect(parsePosition("47.3769, 8.5417").notation).toBe("dd");
    expect(parsePosition("47 22.614 8 32.502").notation).toBe("dm");
    expect(parsePosition("47 22 36.84 8 32 30.12").notation).toBe("dms");
    expect(parsePosition("32 north 465403 5247151").notation).toBe("utm");
    expect(parsePosition("32T MT 65403 47150").notation).toBe("mgrs");
  });
});

describe("UTM in every usual way", () => {
  // Source: GeoConvert -u -p 3 (row u42 of utm.tsv): zone 32 N 465403.284 5247150.839.
  test.each([
    "32 north 465403.284 5247150.839",
    "32N 465403.284 5247150.839",
    "32 N 465403.284 5247150.839",
    "32T 465403.284 5247150.839",
    "32T 465403.284mE 5247150.839mN",
    "32T 465403.284 m E 5247150.839 m N",
    "32T 465403.284E 5247150.839N",
    "32T E465403.284 N5247150.839",
    "32T N5247150.839 E465403.284",
    "32T 5247150.839N 465403.284E",
    "UTM 32T 465403.284 5247150.839",
    "zone 32 north, 465403.284, 5247150.839",
    "UTM Zone 32N E: 465403.284 N: 5247150.839",
    "465403.284 5247150.839 32N",
    "465403.284E 5247150.839N 32T",
    "32T Easting 465403.284 Northing 5247150.839",
    "32t 465403,284 5247150,839",
    "WGS 84 / UTM zone 32N 465403.284 5247150.839".replace(" /", ""),
  ])("%j", (text) => expect(apart(parsePosition(text).lonLat, ZURICH)).toBeLessThan(0.002));

  test("zone and hemisphere from the map", () => {
    expect(apart(parsePosition("465403.284 5247150.839", [8, 47]).lonLat, ZURICH)).toBeLessThan(0.002);
    expect(apart(parsePosition("56 334368.634 6250948.345", [151, -33]).lonLat, SYDNEY)).toBeLessThan(0.002);
  });

  // Sydney is row u45: zone 56 S 334368.634 6250948.345, whose northing does not lie in the band S.
  test.each([
    "56S 334368.634 6250948.345",
    "56 south 334368.634 6250948.345",
    "56H 334368.634 6250948.345",
    "Zone 56 South 334368.634E 6250948.345N",
  ])("%j", (text) => expect(apart(parsePosition(text).lonLat, SYDNEY)).toBeLessThan(0.002));

  test("“S” that may be band or hemisphere is refused, unless the map tells", () => {
    expect(faultOf("32S 465403 3900000").what).toContain("southern hemisphere or the band");
    expect(parsePosition("32S 465403 3900000", [8, 36]).lonLat[1]).toBeGreaterThan(35);
    expect(parsePosition("32S 465403 3900000", [8, -56]).lonLat[1]).toBeLessThan(-54);
    expect(parsePosition("32 south 465403 3900000").lonLat[1]).toBeLessThan(-54);
  });

  // Source: GeographicLib's tests: 86 N 0 E is UPS north 2000000 1555731.570643; u63 is GeoConvert's.
  test.each([
    ["UPS north 2000000 1555731.570643", [0, 86]],
    ["UPS N 2000000 1555731.570643", [0, 86]],
    ["Z 2000000 1555731.570643", [0, 86]],
    ["UPS south 2786975.217 2786975.217", [45, -80.000001]],
    ["B 2786975.217 2786975.217", [45, -80.000001]],
  ] as const)("%j", (text, place) => expect(apart(parsePosition(text).lonLat, place)).toBeLessThan(0.002));
});

describe("MGRS and USNG", () => {
  // Source: GeoConvert's manual page: the centre of 38SMB4488 is 33.33424 N 44.40363 E; GeographicLib's tests: that of
  // 38SMB is 32° 59′ 14.1″ N 44° 27′ 53.4″ E.
  test.each([
    "38SMB4488",
    "38S MB 44 88",
    "38 S MB 4488",
    "mgrs 38smb4488",
    "USNG: 38S MB 44 88",
    "38S MB 44, 88",
  ])("%j", (text) => {
    const { lonLat, precisionM, reference } = parsePosition(text);
    expect(lonLat[1]).toBeCloseTo(33.33424, 5);
    expect(lonLat[0]).toBeCloseTo(44.40363, 5);
    expect(precisionM).toBe(1000);
    expect(reference).toBe("38SMB4488");
  });
  test("a square alone", () => {
    const { lonLat, precisionM } = parsePosition("38SMB");
    expect(lonLat[1]).toBeCloseTo(32 + 59 / 60 + 14.1 / 3600, 4);
    expect(lonLat[0]).toBeCloseTo(44 + 27 / 60 + 53.4 / 3600, 4);
    expect(precisionM).toBe(100_000);
  });
  // Source: GeographicLib's tests: 1 mm references.
  test("figures down to a millimetre", () => {
    const place = fromUtm({ zone: 38, hemisphere: "N", eastingM: 444140.6, northingM: 3684706.3 });
    expect(apart(parsePosition("38SMB4414060084706300").lonLat, place)).toBeLessThan(0.002);
  });

  describe("GeoConvert's references of the table name squares that contain the point", () => {
    test.each(readRows("utm.tsv").map((row) => ({ row, name: `${row["id"]} ${row["mgrs_1m"]}` })))(
      "$name",
      ({ row }) => {
        const reference = row["mgrs_1m"] as string;
        const point: LonLat = [num(row, "lon_deg"), num(row, "lat_deg")];
        const parsed = parsePosition(reference);
        expect(parsed.reference).toBe(reference);
        // Half the diagonal of the square, and the grid's own stretch.
        expect(apart(parsed.lonLat, point)).toBeLessThan(0.71);
        // Zone 1 is as good as zone 01.
        expect(parsePosition(reference.replace(/^0/, "")).lonLat).toEqual(parsed.lonLat);
      },
    );
  });

  test("completed from the map: the square's letters", () => {
    // 32TMT is the square of Zurich; 32TLT lies west of it; 31TGN is in the zone beside.
    expect(parsePosition("MT 6540 4715", [8.2, 47.5]).reference).toBe("32TMT65404715");
    expect(parsePosition("MT65404715", [7.4, 46.9]).reference).toBe("32TMT65404715");
    expect(parsePosition("LT 9 4", [8.2, 47.5]).reference).toBe("32TLT94");
    expect(parsePosition("GN 2 4", [6.1, 47]).reference).toBe("31TGN24");
    // GeoConvert: 0 N 176.9 E lies in 60N VF, 0.001° south of it in 60M VE.
    expect(parsePosition("VF 8887 0000", [176.9, -0.001]).reference).toBe("60NVF88870000");
    expect(parsePosition("VE 8887 9999", [176.9, 0.001]).reference).toBe("60MVE88879999");
    expect(parsePosition("AC 6 6", [179.99, 20]).reference?.slice(0, 5)).toBe("01QAC");
  });
  test("completed from the map: the very square", () => {
    expect(parsePosition("6540 4715", ZURICH).reference).toBe("32TMT65404715");
    expect(parsePosition("65404715", ZURICH).reference).toBe("32TMT65404715");
    expect(parsePosition("654 471", ZURICH).reference).toBe("32TMT654471");
  });
  test("across a band's edge the band is that of the cell", () => {
    // 48° N in zone 32 crosses square 32 MU / MT near northing 5 316 000: band T below, U above.
    expect(parsePosition("MU 6500 1000", [8.5, 47.9]).reference).toBe("32TMU65001000");
    expect(parsePosition("MU 6500 9000", [8.5, 47.9]).reference).toBe("32UMU65009000");
  });
});

describe("wrong or ambiguous input is refused with one clear sentence", () => {
  test.each([
    ["", null, "nothing to read"],
    ["91 8", null, "Latitude 91° does not exist"],
    ["91N 8E", null, "Latitude 91° does not exist"],
    ["151.2093, -33.8688", null, "Latitude 151.2093° does not exist"],
    ["47 181", null, "Longitude 181°"],
    ["61T MT 65403 47150", null, "UTM zone 61 does not exist"],
    ["61 north 465403 5247151", null, "UTM zone 61 does not exist"],
    ["0 north 465403 5247151", null, "UTM zone 0 does not exist"],
    ["48Q UJ 1234 567", null, "easting has 4 figures and the northing 3"],
    ["48QUJ1234567", null, "7 figures cannot be halved"],
    ["48Q UJ 12 34 56", null, "more than two groups"],
    ["48Q IJ 1234 5678", null, "letters I and O"],
    ["32Z MT 65403 47150", null, "no band Z"],
    ["32T AT 65403 47150", null, "no column A"],
    ["32T MX 65403 47150", null, "no row X"],
    // 32U MT lies wholly below 48° N (GeoConvert: "Block MT not in zone/band 32U").
    ["32U MT 65403 00150", null, "does not lie in band U"],
    ["32T MB 65403 47150", null, "does not lie in band T"],
    ["A AA 1 1", null, "no square AA"],
    ["MT 6540 4715", null, "zone of square MT is missing"],
    ["MT 6540 4715", [-100, 40], "no square MT within 300 km"],
    ["6540 4715", null, "do not say which grid square"],
    ["12 34", [8, 47], "latitude and longitude or a grid reference"],
    ["465403 5247151", null, "zone is missing"],
    ["32 465403 5247151", null, "hemisphere is missing"],
    ["32P 465403 5247151", null, "does not lie in band P"],
    ["32T 5 5247151", null, "Easting 5 m"],
    ["32 north 465403 52471510", null, "Northing 52471510 m"],
    ["47.5", null, "needs two figures"],
    ["47", null, "needs two figures"],
    ["47 22 8", null, "not clear where latitude ends"],
    ["47 22.5 36 8 32 30", null, "Decimals stand in the minutes"],
    ["47 61 8 32", null, "no 61 minutes"],
    ["47 22 60 8 32 30", null, "no 60 seconds"],
    ["47.5N 8.5", null, "Only one angle has a letter"],
    ["47.5N 8.5N", null, "Both angles are latitudes"],
    ["8.5E 47.5W", null, "Both angles are longitudes"],
    ["-47.5S 8.5E", null, "sign and the letter S"],
    ["-47.5N 8.5E", null, "sign and the letter N"],
    ["47.5 N 8.5 O", null, "east in some languages"],
    ["[8.5417, 47.3769]", null, "square brackets"],
    ["47,22,36,8", null, "commas may be decimal signs"],
    ["47.5 - 8.5", null, "dash between the figures"],
    ["47, 8 -32", null, "sign stands before minutes"],
    ["47' 8'", null, "The sign ' stands where degrees"],
    ["Red Lion Inn", null, "is not understood"],
    ["NaN, NaN", null, "is not understood"],
    ["47.3769 x 8.5417", null, "is not understood"],
    ["1.2.3, 4", null, ""],
  ] as const)("%j near %j", (text, near, reason) => {
    const fault = faultOf(text, near);
    expect(["bad-argument", "out-of-range"]).toContain(fault.code);
    expect(fault.what).toContain(reason);
    // One sentence.
    expect(fault.what).toMatch(/^[^\n]+\.$/);
  });

  test("very long nonsense is answered at once and quoted short", () => {
    const start = performance.now();
    const fault = faultOf(`${"1 ".repeat(50_000)}x`);
    expect(performance.now() - start).toBeLessThan(1000);
    expect(fault.message.length).toBeLessThan(400);
  });
});
