/** A person's own instruction as a walk file holds it. */
import { type Members, members, number, position, text } from "./json-reading.ts";
import { asItLay, type OwnInstruction } from "./own-instruction.ts";

/** Member of a leg's properties in a walk file that holds the text. */
export const OWN_INSTRUCTION = "ownInstruction";

export const writeOwnInstruction = (own: OwnInstruction | null): Members =>
  own === null ? {} : { [OWN_INSTRUCTION]: { text: own.text, writtenFor: own.writtenFor } };

/** @throws Fault "bad-walk" naming the place when the member is there and makes no sense */
export function readOwnInstruction(properties: Members, where: string): OwnInstruction | null {
  const value = properties[OWN_INSTRUCTION];
  if (value === undefined || value === null) return null;
  const place = `${where}, ${OWN_INSTRUCTION}`;
  const own = members(value, place);
  const lay = members(own["writtenFor"], `${place}.writtenFor`);
  const bearing = lay["bearingMagneticDeg"];
  return {
    text: text(own["text"], `${place}.text`),
    writtenFor: asItLay({
      from: position(lay["from"], `${place}.from`),
      to: position(lay["to"], `${place}.to`),
      bearingMagneticDeg: bearing === null ? null : number(bearing, `${place}.bearingMagneticDeg`),
    }),
  };
}
