/** Which declared fonts (map-fonts.ts) a text is drawn with: the first that has the letter. */
export const FONT = {
  plain: ["Name", "Other"],
  bold: ["Name Bold", "Name", "Other"],
  italic: ["Name Italic", "Other"],
} as const;
