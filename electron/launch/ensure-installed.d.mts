/** Whether node_modules of a folder holds exactly what its package-lock.json asks for. */
export function isInstalled(folder?: string): boolean;
/** Installs the packages when they are not there. */
export function ensureInstalled(): Promise<void>;
