/** Path of the Electron executable, or null when it is not on this computer. Never fetches it. */
export function electronBinary(): string | null;
