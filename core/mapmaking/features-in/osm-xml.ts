/** OpenStreetMap's XML (.osm): the same objects as in the binary format. Source: OpenStreetMap wiki, OSM XML. */
import { badFeatures, type FeatureFile, type Tick } from "../../files/feature-file.ts";
import type { OsmHandlers, OsmMember } from "./osm-objects.ts";
import { put, type Tags } from "./raw-feature.ts";
import { readXml } from "../../files/xml.ts";

/** Most members of one object that are kept: the database allows 2000 nodes a way and 32 000 members a relation. */
const MOST_MEMBERS = 1_000_000;

/**
 * @throws Fault "bad-features" naming the line for an object without an id or a node without a position
 */
export async function readOsmXml(file: FeatureFile, handlers: OsmHandlers, tick: Tick): Promise<void> {
  let root = "";
  await readXml(file, tick, ({ where }) => {
    let id = 0;
    let [lon, lat] = [0, 0];
    let inside: "node" | "way" | "relation" | null = null;
    let deleted = false;
    let tags: Record<string, string> | null = null;
    let refs: number[] = [];
    let members: OsmMember[] = [];
    const number = (text: string | undefined, what: string): number => {
      const value = text === undefined || text.trim() === "" ? Number.NaN : Number(text);
      if (!Number.isFinite(value))
        throw badFeatures(`${what} is no number: “${text?.slice(0, 40) ?? ""}”.`, where());
      return value;
    };
    const finish = (): void => {
      const all: Tags | null = tags;
      if (deleted) return;
      if (inside === "node") handlers.node?.(id, lon, lat, all);
      else if (inside === "way") handlers.way?.(id, refs, all);
      else if (inside === "relation") handlers.relation?.(id, members, all);
    };
    return {
      open(name, a) {
        if (root === "") {
          root = name;
          if (name !== "osm" && name !== "osmChange")
            throw badFeatures(
              `This is no OpenStreetMap file: it begins with “${name.slice(0, 40)}”.`,
              where(),
            );
        }
        if (name === "node" || name === "way" || name === "relation") {
          inside = name;
          id = number(a["id"], `The id of a ${name}`);
          deleted = a["action"] === "delete" || a["visible"] === "false";
          tags = null;
          refs = [];
          members = [];
          if (name === "node" && !deleted) {
            lon = number(a["lon"], `The longitude of node ${id}`);
            lat = number(a["lat"], `The latitude of node ${id}`);
          }
        } else if (inside !== null && name === "tag") put((tags ??= {}), a["k"] ?? "", a["v"] ?? "");
        else if (inside === "way" && name === "nd") refs.push(number(a["ref"], `A node of way ${id}`));
        else if (inside === "relation" && name === "member") {
          const type = a["type"];
          if (type === "node" || type === "way" || type === "relation")
            members.push({ type, id: number(a["ref"], `A member of relation ${id}`), role: a["role"] ?? "" });
        }
        if (refs.length > MOST_MEMBERS || members.length > MOST_MEMBERS)
          throw badFeatures(`More than ${MOST_MEMBERS} members in ${inside ?? ""} ${id}.`, where());
      },
      close(name) {
        if (name !== inside) return;
        finish();
        inside = null;
      },
    };
  });
}
