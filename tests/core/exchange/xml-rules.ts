/**
 * The rules of two schemas as far as what is written here touches them, transcribed by hand from memory of the published
 * texts (gpx.xsd 1.1 of topografix.com; ogckml23.xsd of OGC 12-007r2), since neither schema lies beside the tests: order and
 * number of children, required attributes, ranges of coordinates, white space where only elements may stand. Anything else
 * in a file is refused.
 */
import { SaxesParser } from "saxes";

interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Node[];
  text: string;
}

function parse(xml: string): Node {
  const parser = new SaxesParser();
  const root: Node = { name: "", attributes: {}, children: [], text: "" };
  const stack = [root];
  parser.on("error", (error) => {
    throw error;
  });
  parser.on("opentag", (tag) => {
    const node: Node = {
      name: tag.name,
      attributes: tag.attributes,
      children: [],
      text: "",
    };
    stack.at(-1)?.children.push(node);
    stack.push(node);
  });
  parser.on("text", (text) => ((stack.at(-1) as Node).text += text));
  parser.on("closetag", () => void stack.pop());
  parser.write(xml).close();
  return root.children[0] as Node;
}

interface Rule {
  /** Children in order; "?" at most one, "*" any number, "1" exactly one. */
  readonly children?: readonly (readonly [string, "?" | "*" | "1"])[];
  /** Attributes, all of them required. */
  readonly attributes?: Readonly<Record<string, RegExp | ((value: string) => boolean)>>;
  readonly text?: RegExp | ((value: string) => boolean);
}

const decimal =
  (test: (n: number) => boolean) =>
  (value: string): boolean =>
    /^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(value) && test(Number(value));
const place = { lat: decimal((n) => n >= -90 && n <= 90), lon: decimal((n) => n >= -180 && n < 180) };
const any = { text: /^[^]*$/ };
const wpt: Rule = {
  attributes: place,
  children: [
    ["ele", "?"],
    ["name", "?"],
    ["desc", "?"],
  ],
};
const GPX: Readonly<Record<string, Rule>> = {
  gpx: {
    attributes: { xmlns: /^http:\/\/www\.topografix\.com\/GPX\/1\/1$/, version: /^1\.1$/, creator: /./ },
    children: [
      ["metadata", "?"],
      ["wpt", "*"],
      ["rte", "*"],
      ["trk", "*"],
    ],
  },
  metadata: {
    children: [
      ["name", "?"],
      ["desc", "?"],
    ],
  },
  wpt,
  rtept: wpt,
  trkpt: wpt,
  rte: {
    children: [
      ["name", "?"],
      ["desc", "?"],
      ["rtept", "*"],
    ],
  },
  trk: {
    children: [
      ["name", "?"],
      ["desc", "?"],
      ["trkseg", "*"],
    ],
  },
  trkseg: { children: [["trkpt", "*"]] },
  name: any,
  desc: any,
  ele: { text: decimal(() => true) },
};
const figure = "-?\\d+(\\.\\d+)?";
const tuple = `${figure},${figure}(,${figure})?`;
const KML: Readonly<Record<string, Rule>> = {
  kml: {
    attributes: { xmlns: /^http:\/\/www\.opengis\.net\/kml\/2\.3$/, version: /^2\.[3-9]$/ },
    children: [["Document", "?"]],
  },
  Document: {
    children: [
      ["name", "?"],
      ["description", "?"],
      ["Folder", "*"],
      ["Placemark", "*"],
    ],
  },
  Folder: {
    children: [
      ["name", "?"],
      ["description", "?"],
      ["Placemark", "*"],
    ],
  },
  Placemark: {
    children: [
      ["name", "?"],
      ["description", "?"],
      ["Point", "?"],
      ["LineString", "?"],
    ],
  },
  Point: { children: [["coordinates", "1"]] },
  LineString: {
    children: [
      ["tessellate", "?"],
      ["coordinates", "1"],
    ],
  },
  tessellate: { text: /^[01]$/ },
  coordinates: { text: new RegExp(`^\\s*${tuple}(\\s+${tuple})*\\s*$`) },
  name: any,
  description: any,
};

function check(node: Node, rules: Readonly<Record<string, Rule>>, wrong: string[]): void {
  const rule = rules[node.name];
  if (!rule) return void wrong.push(`element ${node.name}`);
  const fits = (test: RegExp | ((v: string) => boolean), value: string): boolean =>
    typeof test === "function" ? test(value) : test.test(value);
  const attributes = rule.attributes ?? {};
  for (const key of new Set([...Object.keys(attributes), ...Object.keys(node.attributes)])) {
    const value = node.attributes[key];
    const test = attributes[key];
    if (value === undefined || !test || !fits(test, value)) wrong.push(`${node.name}/@${key} = ${value}`);
  }
  if (!fits(rule.text ?? /^\s*$/, node.text)) wrong.push(`text of ${node.name}: ${node.text.slice(0, 40)}`);
  let at = 0;
  for (const [name, times] of rule.children ?? []) {
    let count = 0;
    while (node.children[at]?.name === name) [at, count] = [at + 1, count + 1];
    if ((times !== "*" && count > 1) || (times === "1" && count === 0))
      wrong.push(`${count} ${name} in ${node.name}`);
  }
  if (at < node.children.length) wrong.push(`${node.children[at]?.name} out of place in ${node.name}`);
  for (const child of node.children) check(child, rules, wrong);
}

/** What in the text is against the schema; throws where it is no XML. */
export function againstSchema(xml: string, kind: "gpx" | "kml"): string[] {
  const root = parse(xml);
  const wrong = root.name === kind ? [] : [`root ${root.name}`];
  check(root, kind === "gpx" ? GPX : KML, wrong);
  return wrong;
}
