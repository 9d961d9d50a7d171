import { Fault } from "../../core/fault.ts";
import { CHROMIUM_REMEDY, findChromium } from "../launch/find-chromium.mjs";
import { PRINT_POLICY } from "./content-policy.ts";
import type { PdfPrinter } from "./pdf-printer.ts";

/** A name that can never be reached: the page is answered from here, every other request is refused. */
const PAGE = "http://print.invalid/";

/** Prints with the Chromium that is installed, started for the one document. Scripts off, all network refused. */
export function chromiumPdf(env: Readonly<Record<string, string | undefined>> = process.env): PdfPrinter {
  return {
    async print(html) {
      const executablePath = findChromium(env);
      if (!executablePath)
        throw new Fault(
          "unavailable",
          "Printing to PDF needs Chromium, which was not found.",
          null,
          CHROMIUM_REMEDY,
        );
      // Loaded when needed: it takes longer than most commands.
      const { chromium } = await import("playwright-core");
      const browser = await chromium
        .launch({
          executablePath,
          // Chromium refuses its sandbox to root.
          chromiumSandbox: process.getuid?.() !== 0,
          args: [
            "--disable-quic",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            "--no-first-run",
          ],
        })
        .catch((error: Error) => {
          throw new Fault(
            "unavailable",
            `Chromium did not start: ${error.message.split("\n")[0]}`,
            executablePath,
            CHROMIUM_REMEDY,
          );
        });
      try {
        const context = await browser.newContext({ javaScriptEnabled: false, serviceWorkers: "block" });
        await context.route("**", (route) =>
          route.request().url() === PAGE
            ? route.fulfill({
                body: html,
                contentType: "text/html; charset=utf-8",
                headers: { "content-security-policy": PRINT_POLICY },
              })
            : route.abort(),
        );
        const page = await context.newPage();
        await page.goto(PAGE, { waitUntil: "load" });
        return await page.pdf({ preferCSSPageSize: true, printBackground: true, tagged: true });
      } finally {
        await browser.close();
      }
    },
  };
}
