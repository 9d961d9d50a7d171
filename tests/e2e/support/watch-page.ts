import type { BrowserContext } from "playwright-core";

const LEFT = "a request left the host";

/** What went wrong in a window beside what the test looks at. */
export interface Watch {
  readonly problems: readonly string[];
  /** Takes a problem that the test itself caused off the list; throws when there is none like it. */
  forgive(pattern: RegExp): void;
  /** @throws Error naming every problem */
  check(): void;
  /** For the end of every window, whether its test checks or not. @throws Error naming the requests that left the host */
  checkNothingLeft(): void;
}

/**
 * Watches every page and worker of a context: requests that leave the host (they are also refused), errors on the
 * console, exceptions nobody caught, and violations of the content policy. Call it before the first page is opened.
 */
export async function watchContext(context: BrowserContext, origin: string): Promise<Watch> {
  const problems: string[] = [];
  const own = (url: string): boolean => url.startsWith(`${origin}/`) || /^(data|blob|about):/.test(url);
  await context.route(
    (url) => !own(url.href),
    async (route) => {
      problems.push(`${LEFT}: ${route.request().url()}`);
      await route.abort();
    },
  );
  context.on("console", (message) => {
    if (message.type() === "error") problems.push(`console: ${message.text()} (${message.location().url})`);
  });
  context.on("weberror", (error) =>
    problems.push(`not caught: ${error.error().stack ?? error.error().message}`),
  );
  await context.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) => {
      console.error(`content policy: ${event.violatedDirective} stopped ${event.blockedURI || event.sample}`);
    });
  });
  return {
    problems,
    forgive(pattern) {
      const kept = problems.filter((problem) => !pattern.test(problem));
      if (kept.length === problems.length) throw new Error(`No problem like ${pattern} happened.`);
      problems.splice(0, problems.length, ...kept);
    },
    check() {
      if (problems.length > 0) throw new Error(`The window had problems:\n${problems.join("\n")}`);
    },
    checkNothingLeft() {
      const left = problems.filter((problem) => problem.startsWith(LEFT));
      if (left.length > 0) throw new Error(left.join("\n"));
    },
  };
}
