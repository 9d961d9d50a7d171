/**
 * Vector tiles written by hand, so that reading is not checked against our own writer.
 * Source: Mapbox Vector Tile specification 2.1, sections 4.1 to 4.4.
 */
import { PbfWriter } from "pbf";

export type XY = readonly [x: number, y: number];

export interface RawFeature {
  readonly type: "point" | "line" | "polygon";
  /** Tile units. Polygons: rings without the first position repeated. */
  readonly parts: readonly (readonly XY[])[];
  readonly properties?: Readonly<Record<string, string | number | boolean>>;
}

export interface RawLayer {
  readonly name: string;
  readonly extent?: number;
  readonly features: readonly RawFeature[];
}

const TYPES = { point: 1, line: 2, polygon: 3 };
const zigzag = (n: number): number => (n << 1) ^ (n >> 31);

function commands({ type, parts }: RawFeature): number[] {
  const out: number[] = [];
  let [x, y] = [0, 0];
  const step = ([px, py]: XY): void => {
    out.push(zigzag(px - x), zigzag(py - y));
    [x, y] = [px, py];
  };
  if (type === "point") {
    const all = parts.flat();
    out.push((all.length << 3) | 1);
    all.forEach(step);
    return out;
  }
  for (const part of parts) {
    out.push((1 << 3) | 1);
    step(part[0]!);
    out.push(((part.length - 1) << 3) | 2);
    part.slice(1).forEach(step);
    if (type === "polygon") out.push((1 << 3) | 7);
  }
  return out;
}

export function vectorTileBytes(layers: readonly RawLayer[]): Uint8Array {
  const pbf = new PbfWriter();
  for (const layer of layers)
    pbf.writeMessage(
      3,
      (_, p) => {
        p.writeStringField(1, layer.name);
        const keys: string[] = [];
        const values: (string | number | boolean)[] = [];
        for (const feature of layer.features)
          p.writeMessage(
            2,
            (_f, q) => {
              const tags: number[] = [];
              for (const [key, value] of Object.entries(feature.properties ?? {})) {
                if (!keys.includes(key)) keys.push(key);
                if (!values.includes(value)) values.push(value);
                tags.push(keys.indexOf(key), values.indexOf(value));
              }
              q.writePackedVarint(2, tags);
              q.writeVarintField(3, TYPES[feature.type]);
              q.writePackedVarint(4, commands(feature));
            },
            null,
          );
        for (const key of keys) p.writeStringField(3, key);
        for (const value of values)
          p.writeMessage(
            4,
            (_v, q) => {
              if (typeof value === "string") q.writeStringField(1, value);
              else if (typeof value === "boolean") q.writeBooleanField(7, value);
              else q.writeDoubleField(3, value);
            },
            null,
          );
        p.writeVarintField(5, layer.extent ?? 4096);
        p.writeVarintField(15, 2);
      },
      null,
    );
  return pbf.finish();
}
