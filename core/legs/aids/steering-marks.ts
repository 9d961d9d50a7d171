/**
 * Steering marks: how a leg falls into hops from one sighted object to the next.
 *
 * A hop is as long as one can pick out a tree or a rock and not lose it: in woods 50 m (common practice, 50 to 60
 * yards); in the open longer when so chosen; never farther than the bare ground lets one see. A target in sight needs no
 * further marks only for those who can tell it from afar, so the hops are counted to it all the same.
 */
import { sightAlong } from "../../terrain/line-of-sight.ts";
import type { Profile } from "../../terrain/profile.ts";
import type { Stretch } from "../stretches.ts";

export interface MarkSettings {
  /** How far ahead a mark is chosen, metres. */
  readonly hopM: number;
  /** The same in the open, where the map shows which ground is wooded; null takes `hopM` everywhere. */
  readonly openHopM: number | null;
}

/** Common practice: 50 to 60 yards in woods; nobody's source for the open, so the same there unless chosen otherwise. */
export const MARK_SETTINGS: MarkSettings = { hopM: 50, openHopM: null };

export interface Hop extends Stretch {
  readonly through: "wood" | "open" | "unknown";
  /** What makes it no longer: the chosen distance, the edge of a wood, ground that hides what lies beyond, or the target. */
  readonly endsBy: "distance" | "wood" | "ground" | "target";
}

export interface SteeringMarks {
  readonly hops: readonly Hop[];
  /** How many marks are sighted before the target itself is walked to: one fewer than the hops. */
  readonly marks: number;
  /** Whether the target is in sight from the start over bare ground and through no wood; null when not known. */
  readonly targetInSight: boolean | null;
  /** From here on the target stays in sight, metres from the start; null when not known. */
  readonly targetInSightFromM: number | null;
  readonly notes: readonly string[];
}

/** Nobody sights a mark at their feet: a brow hides what is beyond it, but one walks on to it. */
const LEAST_HOP_M = 10;

/** A leg of more hops than this nobody walks by marks: they are counted, not listed. */
const MOST_HOPS = 1000;

/**
 * The hops of a leg; of one that would have more than a thousand only their number, by the chosen distance alone.
 * @param woods its stretches in woods, in order; null where the map does not show woods
 */
export function steeringMarksOf(
  lengthM: number,
  profile: Profile,
  woods: readonly Stretch[] | null,
  settings: MarkSettings = MARK_SETTINGS,
): SteeringMarks {
  const about = Math.ceil(lengthM / settings.hopM);
  if (about > MOST_HOPS)
    return {
      hops: [],
      marks: about - 1,
      targetInSight: null,
      targetInSightFromM: null,
      notes: ["The leg is too long for its marks to be looked at one by one."],
    };
  const hops: Hop[] = [];
  const known = profile.from !== null && profile.blind.length === 0 && profile.errorM === null;
  const openM = woods === null ? settings.hopM : (settings.openHopM ?? settings.hopM);
  for (let fromM = 0; fromM < lengthM - 1e-6;) {
    const wood = woods?.find((w) => w.fromM <= fromM + 1e-6 && w.toM > fromM + 1e-6);
    const next = wood ? undefined : woods?.find((w) => w.fromM > fromM + 1e-6);
    let toM = fromM + (wood ? settings.hopM : openM);
    let endsBy: Hop["endsBy"] = "distance";
    // From the open one sights the edge of a wood, from the wood no farther than in it; but not at one's feet.
    if (next && next.fromM < toM && next.fromM - fromM >= LEAST_HOP_M && openM > settings.hopM)
      [toM, endsBy] = [next.fromM, "wood"];
    if (known) {
      const seenM = seenFrom(profile, fromM, Math.min(toM, lengthM));
      if (seenM < Math.min(toM, lengthM) - 1e-6)
        [toM, endsBy] = [Math.max(fromM + LEAST_HOP_M, seenM), "ground"];
    }
    if (toM >= lengthM) [toM, endsBy] = [lengthM, "target"];
    hops.push({ fromM, toM, through: wood ? "wood" : woods === null ? "unknown" : "open", endsBy });
    fromM = toM;
  }
  const sight = targetSight(lengthM, profile, woods);
  return {
    hops,
    marks: Math.max(0, hops.length - 1),
    ...sight,
    notes: [
      ...(woods === null
        ? ["The map does not show which ground is wooded: hops are as long everywhere."]
        : []),
      ...(known ? [] : ["Heights are not known well enough to tell how far the ground lets one see ahead."]),
    ],
  };
}

/** How far along the leg ground is in sight without a break from a place on it, up to `toM`. */
function seenFrom({ distanceM, elevationM }: Profile, fromM: number, toM: number): number {
  const first = distanceM.findIndex((d) => d > fromM);
  if (first < 0) return toM;
  const at = (m: number, i: number): number => {
    const [d0, d1] = [distanceM[i - 1] as number, distanceM[i] as number];
    const [h0, h1] = [elevationM[i - 1] as number, elevationM[i] as number];
    return d1 > d0 ? h0 + ((h1 - h0) * (m - d0)) / (d1 - d0) : h0;
  };
  const [d, h] = [[0], [first > 0 ? at(fromM, first) : (elevationM[0] as number)]];
  let i = first;
  for (; i < distanceM.length && (distanceM[i] as number) < toM; i++) {
    d.push((distanceM[i] as number) - fromM);
    h.push(elevationM[i] as number);
  }
  d.push(toM - fromM);
  h.push(i < distanceM.length ? at(toM, i) : (elevationM.at(-1) as number));
  const { visibleToM } = sightAlong({
    distanceM: Float64Array.from(d),
    elevationM: Float64Array.from(h),
    errorM: null,
  });
  return fromM + (visibleToM as number);
}

/** Sight goes both ways: where the ground is in sight from the target, the target is in sight from there. */
function targetSight(
  lengthM: number,
  { distanceM, elevationM, errorM }: Profile,
  woods: readonly Stretch[] | null,
): Pick<SteeringMarks, "targetInSight" | "targetInSightFromM"> {
  const back = sightAlong({
    distanceM: distanceM.map((_, i) => lengthM - (distanceM[distanceM.length - 1 - i] as number)),
    elevationM: elevationM.toReversed(),
    errorM,
  });
  const wooded = woods?.at(-1);
  // A target within a wood is seen from nowhere farther than one sees in woods: from where is not said.
  const afterWood = wooded ? (wooded.toM >= lengthM - 1 ? null : wooded.toM) : 0;
  const inSight = wooded && back.targetVisible !== null ? false : back.targetVisible;
  if (back.visibleToM === null || afterWood === null)
    return { targetInSight: inSight, targetInSightFromM: null };
  return { targetInSight: inSight, targetInSightFromM: Math.max(afterWood, lengthM - back.visibleToM) };
}
