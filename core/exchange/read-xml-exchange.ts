/** What the readers of GPX and KML share: the way down to an element, its text, figures, and what is collected. */
import { badFeatures, type FeatureFile, noTick } from "../files/feature-file.ts";
import { readXml } from "../files/xml.ts";
import { type Draft, Positions, type RawExchange, type ReadOptions } from "./exchange.ts";

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

/** A number as XML Schema writes one; NaN for anything else. */
export const figure = (text: string | undefined): number => {
  const bare = text?.trim() ?? "";
  return NUMBER.test(bare) ? Number(bare) : Number.NaN;
};

export interface Element {
  readonly tag: string;
  /** Tags from the root down to the element it stands in. */
  readonly within: readonly string[];
  /** The last of them; "" for the root. */
  readonly parent: string;
}

export interface ExchangeHandlers {
  readonly open: (element: Element, attributes: Readonly<Record<string, string>>) => void;
  /** @param text what stands in it after its last child, the white space around it included */
  readonly close: (element: Element, text: string) => void;
}

export interface Collected {
  title: string | null;
  notes: string;
  readonly drafts: Draft[];
  readonly report: string[];
}

/**
 * @param root tag of the first element, in capitals the name of the format
 * @param handlers made with a way to ask where the reading is
 * @returns what the handlers collected, with what `finish` adds
 * @throws Fault "bad-features" naming the line
 */
export async function readXmlExchange(
  file: FeatureFile,
  root: string,
  options: ReadOptions,
  handlers: (into: Collected, positions: Positions, where: () => string) => ExchangeHandlers,
): Promise<RawExchange> {
  const positions = new Positions(options);
  const into: Collected = { title: null, notes: "", drafts: [], report: [] };
  await readXml(file, noTick, ({ where }) => {
    const within: string[] = [];
    let text = "";
    const { open, close } = handlers(into, positions, where);
    return {
      open(tag, attributes) {
        if (within.length === 0 && tag !== root)
          throw badFeatures(
            `This is no ${root.toUpperCase()}: it begins with “${tag.slice(0, 40)}”.`,
            where(),
          );
        open({ tag, within, parent: within.at(-1) ?? "" }, attributes);
        within.push(tag);
        text = "";
      },
      text(piece) {
        text += piece;
      },
      close(tag) {
        within.pop();
        const whole = text;
        text = "";
        close({ tag, within, parent: within.at(-1) ?? "" }, whole);
      },
    };
  });
  return { ...into, odd: positions.odd };
}
