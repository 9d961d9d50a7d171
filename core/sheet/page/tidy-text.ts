/**
 * Text as it is set, the same in every writer: one line, letters composed with their accents, and the spaces and hyphens that fonts
 * lack as the nearest they have.
 */
export const tidyText = (text: string): string =>
  /^[\x20-\x7e]*$/.test(text)
    ? text
    : text
        .normalize("NFC")
        .replace(/[\p{Cc}\u2028\u2029]/gu, " ")
        .replace(/[\u2005-\u200a\u202f\u205f]/g, "\u2009")
        .replace(/[\u2000-\u2004\u3000]/g, " ")
        .replace(/[\u2010\u2011]/g, "-");
