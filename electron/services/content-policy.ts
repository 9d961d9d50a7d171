/**
 * What the window may load and run, in both hosts: its own files only, no inline script or style, no eval.
 * `blob:` images and `data:` fonts and images are what MapLibre and its style sheet use; its worker is a file of ours.
 */
const DIRECTIVES = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self' data:",
  "connect-src 'self'",
  "worker-src 'self' blob:",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  "frame-src 'none'",
  "object-src 'none'",
];

export const CONTENT_POLICY = DIRECTIVES.join("; ");

/** Headers on every answer of either host. */
export const SAFETY_HEADERS: Readonly<Record<string, string>> = {
  "content-security-policy": CONTENT_POLICY,
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-resource-policy": "same-origin",
  "permissions-policy": "geolocation=(), camera=(), microphone=(), usb=(), serial=(), payment=()",
};

/** A page to print: its own styles and embedded pictures and fonts, nothing that runs, nothing from elsewhere. */
export const PRINT_POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'";
