import { BrowserWindow, session as sessions } from "electron";
import { Fault } from "../../core/fault.ts";
import { PRINT_POLICY } from "../services/content-policy.ts";
import type { PagePrinter, PrintedPage } from "../services/sheets/page-printer.ts";
import { SCHEME } from "./app-protocol.ts";
import { denyPermissions } from "./lock-down.ts";

const PAGE = `${SCHEME}://print/`;
const MICRONS_PER_MM = 1000;

/**
 * Prints from a hidden window of its own session: sandboxed, scripts off, every request but the document's own refused.
 * The system's dialog asks for the printer. Paper of the pages' own size, no margins, no scaling: a millimetre on the page
 * is one on paper. One document at a time.
 */
export function windowPrinter(): PagePrinter {
  let queue: Promise<unknown> = Promise.resolve();
  let html = "";
  const session = sessions.fromPartition("print");
  denyPermissions(session);
  session.protocol.handle(SCHEME, (request) =>
    request.url === PAGE
      ? new Response(html, {
          headers: { "content-type": "text/html; charset=utf-8", "content-security-policy": PRINT_POLICY },
        })
      : new Response(null, { status: 404 }),
  );
  session.webRequest.onBeforeRequest((details, callback) =>
    callback({ cancel: details.url !== PAGE && !details.url.startsWith("data:") }),
  );

  async function printOne(title: string, pages: readonly PrintedPage[]): Promise<void> {
    const [first] = pages;
    if (!first) throw new Fault("bad-argument", "There is no page to print.");
    html = documentOf(title, pages);
    const window = new BrowserWindow({
      show: false,
      webPreferences: { session, sandbox: true, javascript: false, contextIsolation: true },
    });
    // The app's own rule keeps every page within the window's origin; loadURL is the host's doing and passes.
    try {
      await window.loadURL(PAGE);
      await new Promise<void>((resolve, reject) => {
        window.webContents.print(
          {
            silent: false,
            printBackground: true,
            margins: { marginType: "none" },
            scaleFactor: 100,
            landscape: first.widthMm > first.heightMm,
            pageSize: {
              width: Math.round(Math.min(first.widthMm, first.heightMm) * MICRONS_PER_MM),
              height: Math.round(Math.max(first.widthMm, first.heightMm) * MICRONS_PER_MM),
            },
          },
          (printed, reason) => {
            if (printed) resolve();
            else if (/cancel/i.test(reason)) reject(new Fault("cancelled", "Nothing was printed."));
            else
              reject(
                new Fault(
                  "unavailable",
                  `The system could not print: ${reason}.`,
                  null,
                  "Save the PDF and print it at 100 % (“actual size”).",
                ),
              );
          },
        );
      });
    } finally {
      window.destroy();
      html = "";
    }
  }
  return {
    print(title, pages) {
      const job = queue.then(() => printOne(title, pages));
      queue = job.catch(() => undefined);
      return job;
    },
  };
}

/** Pages one after the other, each as large as its paper. */
function documentOf(title: string, pages: readonly PrintedPage[]): string {
  const rules = pages.map(
    ({ widthMm, heightMm }, i) =>
      `@page p${i}{size:${widthMm}mm ${heightMm}mm;margin:0}.p${i}{page:p${i};width:${widthMm}mm;height:${heightMm}mm}`,
  );
  const bodies = pages.map(({ svg }, i) => `<div class="p${i}">${svg.replace(/^<\?xml[^>]*>\s*/, "")}</div>`);
  return `<!doctype html><meta charset="utf-8"><title>${escaped(title)}</title><style>@page{margin:0}body{margin:0}div{break-after:page;overflow:hidden}div:last-child{break-after:auto}svg{display:block;width:100%;height:100%}${rules.join("")}</style>${bodies.join("")}`;
}

const escaped = (text: string): string => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");
