import { BrowserWindow, session as sessions } from "electron";
import { PRINT_POLICY } from "../services/content-policy.ts";
import type { PdfPrinter } from "../services/pdf-printer.ts";
import { SCHEME } from "./app-protocol.ts";

const PAGE = `${SCHEME}://print/`;

/**
 * Prints in a hidden window of its own session: sandboxed, scripts off, every request but the document's own refused.
 * One document at a time.
 */
export function windowPdf(): PdfPrinter {
  let queue: Promise<unknown> = Promise.resolve();
  let html = "";
  const session = sessions.fromPartition("print");
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

  async function printOne(document: string): Promise<Uint8Array> {
    html = document;
    const window = new BrowserWindow({
      show: false,
      webPreferences: { session, sandbox: true, javascript: false, contextIsolation: true },
    });
    // The app's own rule keeps every page within the window's origin; loadURL is the host's doing and passes.
    try {
      await window.loadURL(PAGE);
      return await window.webContents.printToPDF({
        preferCSSPageSize: true,
        printBackground: true,
        generateTaggedPDF: true,
      });
    } finally {
      window.destroy();
      html = "";
    }
  }
  return {
    print(document) {
      const job = queue.then(() => printOne(document));
      queue = job.catch(() => undefined);
      return job;
    },
  };
}
