/** Path of an installed Chromium (or a browser built on it), or null. CHROMIUM_PATH, when set, is the only one tried. */
export function findChromium(env?: Readonly<Record<string, string | undefined>>): string | null;
export const CHROMIUM_REMEDY: string;
