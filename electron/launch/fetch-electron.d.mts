/** Lets the electron package fetch its executable, once; false when it was not tried or failed. */
export function fetchElectron(
  env?: Readonly<Record<string, string | undefined>>,
  script?: string | null,
  longestMs?: number,
): Promise<boolean>;
