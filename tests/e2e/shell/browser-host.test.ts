/** The browser host as a real browser meets it, and that the watch over the window sees what it is there to see. */
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { launchBrowser } from "../support/browser.ts";
import { openTestWindow, startTestHost, until, type TestWindow } from "../support/window.ts";

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser();
});
afterAll(async () => await browser.close());

describe("the window in the browser", () => {
  let window: TestWindow;
  beforeAll(async () => {
    window = await openTestWindow(browser);
  });
  afterAll(async () => await window.close());

  it("comes in by the entrance, and the key is gone from the address", async () => {
    expect(window.page.url()).toBe(`${window.host.origin}/`);
    await window.page.reload();
    expect(await window.page.title()).toMatch(/Legwright/);
    window.watch.check();
  });

  it("keeps its cookie from scripts", async () => {
    expect(await window.page.evaluate(() => document.cookie)).toBe("");
  });

  it("calls the host", async () => {
    const reply: unknown = await window.page.evaluate(async () => {
      const response = await fetch("/api/info", {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: '{"args":[]}',
      });
      return await response.json();
    });
    expect(reply).toMatchObject({ ok: true, value: { host: "browser" } });
  });

  it("is closed to a browser that did not come in by the entrance", async () => {
    const stranger = await browser.newContext();
    const page = await stranger.newPage();
    expect((await page.goto(window.host.origin))?.status()).toBe(403);
    await stranger.close();
  });

  it("is closed to a page of another origin in the same browser", async () => {
    const server = createServer((_request, response) =>
      response.setHeader("content-type", "text/html").end("<title>other</title>"),
    );
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const other = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    const context = await browser.newContext();
    const page = await context.newPage();
    // This browser is inside, and cookies are shared by all ports of a host: only where a request comes from tells.
    const testHost = await startTestHost();
    const { host } = testHost;
    await page.goto(host.entrance());
    expect((await page.goto(host.origin))?.status()).toBe(200);
    await page.goto(other);
    const tries = await page.evaluate(async (target) => {
      const attempt = async (init: RequestInit, path = "/"): Promise<string> => {
        try {
          const response = await fetch(target + path, { credentials: "include", ...init });
          return response.type === "opaque" ? "opaque" : `read ${response.status}`;
        } catch {
          return "refused";
        }
      };
      return [
        await attempt({}),
        await attempt(
          { method: "POST", headers: { "content-type": "application/json" }, body: '{"args":[]}' },
          "/api/info",
        ),
        await attempt({ method: "POST", body: '{"args":[]}' }, "/api/info"),
        await attempt({ mode: "no-cors" }),
      ];
    }, host.origin);
    // The answer to the last is kept from the page, or even from its process, by the browser.
    expect(tries.slice(0, 3)).toEqual(["refused", "refused", "refused"]);
    expect(["opaque", "refused"]).toContain(tries[3]);
    // Following a link from elsewhere is refused as well.
    await page.setContent(`<a href="${host.origin}/">x</a>`);
    const [response] = await Promise.all([page.waitForResponse(`${host.origin}/`), page.click("a")]);
    expect(response.status()).toBe(403);
    await context.close();
    await testHost.close();
    await new Promise((resolve) => server.close(resolve));
  });
});

describe("the watch over the window", () => {
  it.each([
    [
      "a request that leaves the host",
      () => void fetch("http://example.invalid/x").catch(() => undefined),
      /left the host: http:\/\/example\.invalid\/x|content policy/,
    ],
    ["an error on the console", () => console.error("something broke"), /console: something broke/],
    [
      "an exception nobody caught",
      () =>
        void setTimeout(() => {
          throw new Error("let go");
        }),
      /not caught:.*let go/,
    ],
    [
      "an inline style",
      () => document.body.insertAdjacentHTML("beforeend", '<p style="color:red">x</p>'),
      /content policy: style-src/,
    ],
    [
      "an inline script",
      () => document.body.append(Object.assign(document.createElement("script"), { textContent: "1" })),
      /content policy: script-src/,
    ],
    [
      "a picture from elsewhere",
      () => document.body.append(Object.assign(new Image(), { src: "http://example.invalid/x.png" })),
      /example\.invalid/,
    ],
  ])("sees %s", async (_what, act, expected) => {
    const window = await openTestWindow(browser);
    try {
      window.watch.check();
      await window.page.evaluate(act);
      await until(
        async () => window.watch.problems.some((problem) => expected.test(problem)),
        `a problem like ${expected}, got ${window.watch.problems.join("; ")}`,
        5000,
      );
      expect(() => window.watch.check()).toThrow(expected);
      window.watch.forgive(expected);
    } finally {
      await window.close();
    }
  });
});
