/**
 * How figures and days are written for people: the one place that knows of decimal signs and thousands.
 * At first as the SI brochure (9th ed., 5.4.4) has it, which is how paper, files and the command line stay. A window
 * writes by the person's own locale, whose habits come from the CLDR through Intl. Figures stay Western: they are
 * compared with compass, ruler and map.
 */

export interface FigureStyle {
  readonly decimal: string;
  /** @param plain digits with an optional decimal point, no sign: "12345.60" */
  number(plain: string): string;
  /** @param iso YYYY-MM-DD */
  day(iso: string): string;
  /** @param at milliseconds since 1970, told by the clock here */
  moment(at: number): string;
}

/** Narrow no-break space. */
const THIN = "\u202f";

/** A decimal point, thousands set off by a narrow space from five digits on, days as ISO 8601 writes them. */
export const SI_STYLE: FigureStyle = {
  decimal: ".",
  number(plain) {
    const [whole = "", part] = plain.split(".");
    const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, THIN) : whole;
    return part === undefined ? grouped : `${grouped}.${part}`;
  },
  day: (iso) => iso,
  moment: (at) => new Date(at).toISOString().slice(0, 16).replace("T", " ") + " UTC",
};

/**
 * As people of a locale write.
 * @param locale a BCP 47 tag; undefined for the system's own
 * @throws RangeError for a tag that is none
 */
export function localeStyle(locale: string | undefined): FigureStyle {
  const byDecimals = new Map<number, Intl.NumberFormat>();
  const formatOf = (decimals: number): Intl.NumberFormat => {
    const known = byDecimals.get(decimals);
    if (known) return known;
    const format = new Intl.NumberFormat(locale, {
      numberingSystem: "latn",
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      // From five digits on, here too: four are read at a glance.
      useGrouping: "min2",
    });
    byDecimals.set(decimals, format);
    return format;
  };
  // A day has no hour: UTC throughout keeps it from slipping into the one before.
  const days = new Intl.DateTimeFormat(locale, {
    dateStyle: "medium",
    timeZone: "UTC",
    calendar: "gregory",
    numberingSystem: "latn",
  });
  const moments = new Intl.DateTimeFormat(locale, {
    dateStyle: "medium",
    timeStyle: "medium",
    calendar: "gregory",
    numberingSystem: "latn",
  });
  return {
    moment: (at) => moments.format(at),
    decimal:
      formatOf(1)
        .formatToParts(0.5)
        .find(({ type }) => type === "decimal")?.value ?? ".",
    // A decimal string is taken as it is: what is shown is rounded alike in every style.
    number: (plain) => formatOf(plain.split(".")[1]?.length ?? 0).format(plain as `${number}`),
    day: (iso) => (/^\d{4}-\d\d-\d\d$/.test(iso) ? days.format(Date.parse(`${iso}T00:00:00Z`)) : iso),
  };
}

let read: () => FigureStyle = () => SI_STYLE;
let plainly = 0;

/** The style now in force. */
export const figureStyle = (): FigureStyle => (plainly > 0 ? SI_STYLE : read());

/** From now on `current` is asked for the style each time a figure is written. */
export function writeFiguresBy(current: () => FigureStyle): void {
  read = current;
}

/** Runs what writes for files and other programs, whose figures do not change with who looks on. Not for promises. */
export function inPlainFigures<T>(write: () => T): T {
  plainly++;
  try {
    return write();
  } finally {
    plainly--;
  }
}
