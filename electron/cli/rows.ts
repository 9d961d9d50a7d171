/** Text for a terminal: labelled lines one below the other. */

const WIDTH = 22;

/** Figures hold to their units by no-break spaces, which other programs in a pipe would not take for spaces. */
export const plain = (text: string): string => text.replaceAll(/[\u00a0\u202f]/g, " ");

export const row = (label: string, text: string): string => `${label.padEnd(WIDTH)}${plain(text)}`;
