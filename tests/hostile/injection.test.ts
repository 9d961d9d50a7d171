/**
 * Texts of a stranger stay texts in whatever is written with them. Leg table (HTML, CSV), page (SVG) and PDF have their own
 * tests beside their writers; here are the files for other programs, the document that is printed, and the window's code.
 * Sources: OWASP, CSV Injection; XML 1.0 read back by saxes, a strict parser.
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { SaxesParser } from "saxes";
import { describe, expect, it, vi } from "vitest";
import { READ_LIMITS } from "../../core/exchange/exchange.ts";
import { USUAL_PARTS } from "../../core/exchange/parts.ts";
import { readExchange } from "../../core/exchange/read-exchange.ts";
import { walkFrom } from "../../core/exchange/walk-from.ts";
import { PLAIN_DIALECT } from "../../core/exchange/write-csv.ts";
import { EXCHANGE_FORMATS, writeExchange } from "../../core/exchange/write-exchange.ts";
import { formatWalk, parseWalk } from "../../core/walk/walk-file.ts";
import { bytesOf, walkOf } from "../core/exchange/support.ts";

vi.mock("electron", async () => {
  const { electron } = await import("../electron/security/electron-recorder.ts");
  return { ...electron, default: electron };
});

const EVIL = [
  `<script>alert(1)</script>`,
  `"><img src=x onerror=alert(1)>`,
  `]]><!ENTITY x SYSTEM "file:///etc/passwd">&x;`,
  `=HYPERLINK("http://example.invalid","x")`,
  `+cmd|' /C calc'!A0`,
  `@SUM(A1)`,
  `javascript:alert(1)`,
  `{{constructor.constructor('alert(1)')()}}`,
  `\u202etxt.exe`,
] as const;

const walk = walkOf(EVIL[0], EVIL[2], EVIL.map((name, i) => [name, 10 + i / 100, 60 + (i % 2) / 100, EVIL[(i + 1) % EVIL.length]!])); // prettier-ignore
const written = (format: (typeof EXCHANGE_FORMATS)[number]): Uint8Array =>
  bytesOf(writeExchange(walk, format, USUAL_PARTS, PLAIN_DIALECT));
const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

describe("texts of a stranger", () => {
  it.each(EXCHANGE_FORMATS)("in %s are the same texts when read again", async (format) => {
    const again = walkFrom(await readExchange(written(format), `w.${format}`, READ_LIMITS), { pick: 0, toleranceM: null, date: "2026-05-16", fallbackTitle: "w" }); // prettier-ignore
    expect(again.walk.points.map(({ name }) => name)).toEqual([...EVIL]);
  });

  it.each(["gpx", "kml"] as const)("in %s add no element, no entity and no document type", (format) => {
    const names = new Set<string>();
    const parser = new SaxesParser();
    parser.on("error", (error) => expect.fail(error.message));
    parser.on("doctype", () => expect.fail("a document type"));
    parser.on("opentag", ({ name }) => names.add(name.toLowerCase()));
    parser.write(text(written(format))).close();
    for (const name of ["script", "img"]) expect(names.has(name)).toBe(false);
  });

  it.each(["csv", "tsv"] as const)("in %s begin no formula", (format) => {
    const separator = format === "csv" ? "," : "\t";
    for (const cell of text(written(format)).split(new RegExp(`[\r\n${separator}]`)))
      expect(cell.replace(/^"/, "")).not.toMatch(/^(=|@|\+cmd)/);
  });

  it("in a walk's own file come back as they were", () => {
    const again = parseWalk(formatWalk(walk), "w", "2026-05-16").walk;
    expect(again.points.map(({ name, note }) => [name, note])).toEqual(walk.points.map(({ name, note }) => [name, note])); // prettier-ignore
    expect([again.title, again.notes]).toEqual([walk.title, walk.notes]);
  });

  it("as the title of what is printed open no tag", async () => {
    const { windowPrinter } = await import("../../electron/shell/window-printer.ts");
    const { RecordedWindow, sessionOf } = await import("../electron/security/electron-recorder.ts");
    let html = "";
    const load = vi.spyOn(RecordedWindow.prototype, "loadURL").mockImplementation(async (url) => {
      html = await (await sessionOf("print").schemes.get("legwright")!(new Request(url))).text();
    });
    await windowPrinter().print(`</title>${EVIL[0]}`, [{ svg: "<svg/>", widthMm: 210, heightMm: 297 }]);
    load.mockRestore();
    expect(html).toContain("<svg/>");
    expect(html).not.toMatch(/<script|<img/);
    expect(html.match(/<\/title>/g)).toHaveLength(1);
  });

  it("never meet code that takes a text for HTML or for a program", () => {
    const root = fileURLToPath(new URL("../../", import.meta.url));
    const taken = ["renderer", "core", "electron"]
      .flatMap((folder) => readdirSync(join(root, folder), { recursive: true, encoding: "utf8" }).map((name) => join(root, folder, name)))
      .filter((path) => /\.tsx?$/.test(path))
      .filter((path) => /\b(innerHTML|outerHTML|dangerouslySetInnerHTML|insertAdjacentHTML|document\.write|setHTML|eval|new Function)\b\s*[=(:]/.test(readFileSync(path, "utf8"))); // prettier-ignore
    expect(taken).toEqual([]);
  });
});
