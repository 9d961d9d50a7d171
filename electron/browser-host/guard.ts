import { createHash, randomBytes, timingSafeEqual } from "node:crypto";
import type { IncomingHttpHeaders } from "node:http";

/**
 * Who may talk to the host: a browser on this computer that came in by this run's own address, and only pages of the
 * host itself in that browser. Every check guards against another thing:
 * - Host: a page elsewhere whose name was made to point at 127.0.0.1 (DNS rebinding);
 * - Origin, Sec-Fetch-Site: a page elsewhere that sends requests here from the same browser;
 * - the session cookie: other programs and other people on this computer.
 */
export class Guard {
  readonly #session = randomBytes(32).toString("base64url");
  /** What the address that opens the window carries. Used once: a command line can be read by others here. */
  #key = randomBytes(32).toString("base64url");
  #usedKey: string | null = null;
  readonly #cookie: string;

  constructor(
    readonly origin: string,
    port: number,
  ) {
    // Browsers share cookies between ports: a name of its own keeps two runs apart.
    this.#cookie = `legwright-${port}`;
  }

  /** The address that lets one browser in. */
  get entrance(): string {
    return `${this.origin}/enter?key=${this.#key}`;
  }

  /** Why a request is refused before its address is even looked at; null when it is not. */
  refusal(method: string, headers: IncomingHttpHeaders): string | null {
    if (headers.host !== this.origin.slice("http://".length)) return "wrong Host";
    const { origin } = headers;
    if (origin !== undefined && origin !== this.origin) return "wrong Origin";
    if (method === "POST" && origin === undefined) return "no Origin";
    const site = headers["sec-fetch-site"];
    if (site !== undefined && site !== "same-origin" && site !== "none") return "from another site";
    return null;
  }

  /** Whether the request carries this run's cookie. */
  isInside(headers: IncomingHttpHeaders): boolean {
    return (headers.cookie ?? "").split(/;\s*/).some((pair) => {
      const at = pair.indexOf("=");
      return pair.slice(0, at) === this.#cookie && same(pair.slice(at + 1), this.#session);
    });
  }

  /**
   * Lets a browser in by the key of its address.
   * @returns the cookie to set; "used" when that key has let somebody in already, after which `entrance` is a new
   * address; null for a wrong key
   */
  enter(key: string): { readonly cookie: string } | "used" | null {
    if (same(key, this.#key)) {
      this.#usedKey = this.#key;
      this.#key = randomBytes(32).toString("base64url");
      return { cookie: `${this.#cookie}=${this.#session}; HttpOnly; SameSite=Strict; Path=/` };
    }
    return this.#usedKey !== null && same(key, this.#usedKey) ? "used" : null;
  }
}

/** Compared in a time that does not depend on how much of it is right; hashing makes the lengths equal. */
function same(given: string, wanted: string): boolean {
  const digest = (text: string): Buffer => createHash("sha256").update(text).digest();
  return timingSafeEqual(digest(given), digest(wanted));
}
