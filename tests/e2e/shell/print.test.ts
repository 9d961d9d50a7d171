/**
 * What is sent to a printer, over the stand-in for Electron: its Chromium makes a PDF of the very page that would print,
 * which is measured. The options are those of Electron's documentation (webContents.print: microns, `scaleFactor` in per cent).
 */
import { afterAll, beforeAll, expect, it } from "vitest";
import { USUAL_WISH } from "../../../core/sheet/sheet-job.ts";
import { readPdfPages } from "../../support/pdf-reader.ts";
import { type Shell, startShell } from "../support/shell.ts";
import { until } from "../support/window.ts";
import { pointsFile } from "../support/planner.ts";

interface Printed {
  readonly url: string;
  readonly pdf: string;
  readonly options: {
    readonly silent: boolean;
    readonly scaleFactor: number;
    readonly landscape: boolean;
    readonly margins: { readonly marginType: string };
    readonly pageSize: { readonly width: number; readonly height: number };
  };
}

let shell: Shell;
let key: string;
beforeAll(async () => {
  shell = await startShell();
  const walk = pointsFile([
    [20.44, -33.98],
    [20.452, -33.975],
    [20.46, -33.984],
  ]);
  const wish = { ...USUAL_WISH, parts: ["sheets", "table"], landscape: true };
  const started = (await shell.call("startSheets", { walk, mapId: null, wish })) as { value: string };
  key = started.value;
  await until(
    async () =>
      Boolean(((await shell.call("sheetsState", key)) as { value?: { ready: unknown } }).value?.ready),
    "the pages",
    60_000,
  );
}, 120_000);
afterAll(async () => await shell.close());

const print = async (answer: object): Promise<{ answer: unknown; printed: Printed[] }> => {
  await shell.ask("answer", { answer });
  const reply = await shell.call("printSheets", key);
  return { answer: reply, printed: (await shell.ask("printed")) as Printed[] };
};

it("asks the person, and prints at true size on paper of the pages' own size", async () => {
  const { answer, printed } = await print({ success: true });
  expect(answer).toMatchObject({ ok: true });
  const [{ options, url, pdf }] = printed as [Printed];
  expect(printed).toHaveLength(1);
  expect(url).toBe("legwright://print/");
  // A4 by ISO 216 is 210 × 297 mm, told upright with `landscape` beside it.
  expect(options).toMatchObject({
    silent: false,
    scaleFactor: 100,
    landscape: true,
    margins: { marginType: "none" },
    pageSize: { width: 210_000, height: 297_000 },
  });
  const pages = readPdfPages(Buffer.from(pdf, "base64"));
  expect(pages.length).toBeGreaterThan(1);
  for (const { widthMm, heightMm } of pages) {
    expect(Math.abs(widthMm - 297)).toBeLessThan(0.5);
    expect(Math.abs(heightMm - 210)).toBeLessThan(0.5);
  }
  // The check line, 100 mm, as Chromium lays it on that paper.
  const level = (pages[0] as (typeof pages)[number]).paths.flatMap(({ parts }) =>
    parts
      .filter((part) => part.length === 4 && Math.abs((part[1] as number) - (part[3] as number)) < 0.01)
      .map((part) => Math.abs((part[2] as number) - (part[0] as number))),
  );
  expect(Math.min(...level.map((mm) => Math.abs(mm - 100)))).toBeLessThan(0.1);
  expect(await shell.ask("problems")).toEqual([]);
});

it("tells apart a person who changed their mind and a printer that fails", async () => {
  expect((await print({ success: false, reason: "Print job canceled" })).answer).toMatchObject({
    ok: false,
    fault: { code: "cancelled" },
  });
  expect((await print({ success: false, reason: "Print job failed" })).answer).toMatchObject({
    ok: false,
    fault: { code: "unavailable", what: expect.stringContaining("Print job failed") as string },
  });
});
