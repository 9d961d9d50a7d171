/** A slope in one sentence with five blanks: whichever is filled in, the others follow. */
import { DEG } from "../../core/units/angle.ts";
import { fromMetres, type LengthUnitName, lengthUnit, parseLength } from "../../core/units/length.ts";
import { sumsWords } from "../words/sums-words.ts";
import { Answer, Blank, SumGroup, Working } from "./blank.tsx";
import type { SlopeFrom } from "./slope-work.ts";
import { figure } from "./sum-figures.ts";
import { blanks, slopeFound, slopeFrom } from "./sums-state.ts";

const { slope: slopeWords } = sumsWords;

type SlopeBlank = "degrees" | "percent" | "ratio" | "rise" | "run";
const FROM: Readonly<Record<SlopeBlank, SlopeFrom>> = {
  degrees: "degrees",
  percent: "percent",
  ratio: "run",
  rise: "rise",
  run: "rise",
};

export function SlopeSum() {
  const of = slopeFound.value;
  const slope = of.kind === "answer" ? of.value : null;
  /** What a blank shows that follows another; null when it is the one filled in. */
  const follows: Readonly<Record<SlopeBlank, string | null>> = {
    degrees: slopeFrom.value === "degrees" ? null : (slope?.degrees ?? ""),
    percent: slopeFrom.value === "percent" ? null : (slope?.percent ?? ""),
    ratio: slopeFrom.value === "run" ? null : (/[\d.]+$/.exec(slope?.ratio ?? "")?.[0] ?? "–"),
    rise: slopeFrom.value === "rise" ? null : slope ? riseOver(blanks.run.value, slope.degreesExact) : "",
    // The distance stays as it was written: the climb follows it.
    run: null,
  };
  const blank = (name: SlopeBlank, label: string, least: number) => (
    <Blank
      label={label}
      value={follows[name] ?? blanks[name].value}
      onInput={(text) => fillIn(name, text)}
      least={least}
      {...(slopeFrom.value === FROM[name] ? { of } : {})}
      test={`sum-${name}`}
    />
  );
  return (
    <SumGroup title={slopeWords.title}>
      <p class="sum">
        {slopeWords.a} {blank("degrees", slopeWords.degrees, 3)}° = {blank("percent", slopeWords.percent, 3)}{" "}
        %, {slopeWords.oneIn} {blank("ratio", slopeWords.ratio, 3)}. {slopeWords.climbs}{" "}
        {blank("rise", slopeWords.rise, 4)} {slopeWords.in} {blank("run", slopeWords.run, 4)}{" "}
        {slopeWords.onMap}
      </p>
      <Working of={of} test="sum-slope-how" />
      {slope && (
        <p class="sum">
          <Answer test="sum-longer">{slopeWords.longer(slope.onSlope)}</Answer>
        </p>
      )}
    </SumGroup>
  );
}

function fillIn(name: SlopeBlank, text: string): void {
  // A new distance under a slope that is given leaves the slope and moves the climb.
  if (name === "run" && slopeFrom.value !== "rise") {
    blanks.run.value = text;
    return;
  }
  blanks[name].value = text;
  slopeFrom.value = FROM[name];
}

/** The climb on a slope over a distance, in the distance's own unit; empty when the distance cannot be read. */
function riseOver(runText: string, degrees: number): string {
  try {
    const metres = parseLength(runText, "m") * Math.tan(degrees * DEG);
    const unit: LengthUnitName = lengthUnit(/[a-z"'′″]+\.?\s*$/i.exec(runText.trim())?.[0] ?? "m") ?? "m";
    return `${figure(fromMetres(metres, unit))}\u00a0${unit}`;
  } catch {
    return "";
  }
}
