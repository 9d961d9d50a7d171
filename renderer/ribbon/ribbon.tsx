/** The walk ribbon: the whole walk from start to end on one axis of distance. */
import { useRef } from "preact/hooks";
import { formatAlong } from "../../core/legs/leg-words.ts";
import {
  formatDuration,
  formatHeight,
  formatLength,
  formatNumber,
  type LengthUnit,
} from "../../core/units/format.ts";
import { kindWord } from "../../core/legs/line-kinds.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { gravestFirst } from "../advice/hazard-order.ts";
import { isLowLeg } from "../advice/low-odds.tsx";
import { lengthUnit, settings } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { calmFigures } from "../walk-state/figures.ts";
import { pickLeg, pointedAt, pointedLeg, shownLeg } from "../walk-state/selection.ts";
import { landformHere, shownStretch } from "../walk-state/stretch.ts";
import { walk } from "../walk-state/walk-document.ts";
import { climbText, legSummary } from "../words/figure-words.ts";
import { adviceWords } from "../words/advice-words.ts";
import { words } from "../words/words.ts";
import { useSize } from "../app/use-size.ts";
import { CrossingMarks } from "./crossing-marks.tsx";
import { groundPath } from "./ground-path.ts";
import { HazardMarks } from "./hazard-marks.tsx";
import { LegHeadings } from "./leg-headings.tsx";
import { groundBetween, heightAt, walkProfile } from "./walk-profile.ts";
import { ribbonScale } from "./ribbon-scale.ts";

/** Heights and widths in the text's own size, so that larger text gets more room. */
const HEAD = 1.75;
const FOOT = 1.6;
const SIDE = 1.25;

export function Ribbon() {
  const holder = useRef<HTMLDivElement>(null);
  const { width, height, rem } = useSize(holder);
  const legs = calmFigures.value?.legs ?? [];
  const unit = lengthUnit.value;
  const north = walk.value.north;
  const empty = legs.length === 0;
  // In a narrow window only the legs and their figures are left.
  const oneLine = height < 4 * rem;

  const profile = walkProfile(legs);
  const box = {
    left: oneLine ? 0 : SIDE * rem + 2.2 * rem,
    right: oneLine ? width : width - SIDE * rem,
    top: (HEAD + 1.9) * rem,
    bottom: height - FOOT * rem,
  };
  const scale = ribbonScale(box, profile.lengthM, profile.lowestM, profile.highestM, unit);

  const point = (event: PointerEvent): void => {
    const rect = (event.currentTarget as SVGElement).getBoundingClientRect();
    const at = scale.along(event.clientX - rect.left);
    const leg = profile.legs.find(({ endM }) => at <= endM) ?? profile.legs.at(-1);
    if (!leg) return;
    pointedAt.value = { leg: leg.leg, atM: Math.max(0, at - leg.startM), from: "ribbon" };
    pointedLeg.value = leg.leg;
  };
  const leave = (): void => {
    pointedAt.value = null;
    pointedLeg.value = null;
  };
  const pick = (): void => {
    if (pointedLeg.value !== null) pickLeg(pointedLeg.value);
  };

  const pointed = pointedAt.value;
  const pointedStart = pointed && profile.legs[pointed.leg]?.startM;
  const cursorM =
    pointed && pointedStart !== null && pointedStart !== undefined ? pointedStart + pointed.atM : null;

  const stretch = shownStretch.value;
  const stretchStart = stretch ? profile.legs[stretch.leg]?.startM : undefined;

  return (
    <div class="ribbon" ref={holder} data-test="ribbon">
      {empty && <p class="ribbon-empty soft">{words.ribbon.empty}</p>}
      {!empty && width > 0 && (
        <svg
          width={width}
          height={height}
          role="group"
          aria-label={words.ribbon.label}
          onPointerMove={point}
          onPointerLeave={leave}
          onClick={pick}
        >
          {!oneLine &&
            scale.hairlines.map((metres) => (
              <g key={metres} class="height-line">
                <line x1={box.left} x2={box.right} y1={scale.y(metres)} y2={scale.y(metres)} />
                <text x={box.left - 0.4 * rem} y={scale.y(metres) + 0.25 * rem} text-anchor="end">
                  {formatHeight(metres, unit)}
                </text>
              </g>
            ))}
          {profile.legs.map((leg) => {
            const [x0, x1] = [scale.x(leg.startM), scale.x(leg.endM)];
            const figuresOfLeg = legs[leg.leg];
            const state =
              leg.leg === shownLeg.value ? "picked" : leg.leg === pointedLeg.value ? "pointed" : "";
            return (
              <g
                key={leg.leg}
                class={`ribbon-leg ${state}`}
                role="button"
                // Drawn elements know the attribute in small letters alone.
                tabindex={0}
                aria-pressed={leg.leg === shownLeg.value}
                aria-label={
                  figuresOfLeg
                    ? words.ribbon.leg(
                        leg.leg + 1,
                        leg.from,
                        leg.to,
                        [
                          legSummary(figuresOfLeg, north, unit, settings.value.compass),
                          ...(isLowLeg(leg.leg) ? [adviceWords.low] : []),
                        ].join(" · "),
                      )
                    : ""
                }
                onKeyDown={(event: KeyboardEvent) => {
                  if (event.key !== "Enter" && event.key !== " ") return;
                  event.preventDefault();
                  pickLeg(leg.leg);
                }}
              >
                <rect x={x0} y={0} width={Math.max(0, x1 - x0)} height={height} />
              </g>
            );
          })}
          {!oneLine &&
            profile.stretches.map((stretch, i) => {
              const line = groundPath(stretch, scale);
              const [first, last] = [stretch[0], stretch.at(-1)];
              if (!first || !last) return null;
              return (
                <g key={i} class="ground">
                  <path
                    class="under"
                    d={`M${line}L${scale.x(last[0])} ${box.bottom}L${scale.x(first[0])} ${box.bottom}Z`}
                  />
                  <path class="line" d={`M${line}`} />
                </g>
              );
            })}
          {!oneLine && <HazardMarks legs={legs} profile={profile} scale={scale} box={box} rem={rem} />}
          {!oneLine && profile.stretches.length === 0 && (
            <>
              <line class="no-ground" x1={box.left} x2={box.right} y1={box.bottom} y2={box.bottom} />
              <text
                class="no-ground-text"
                x={(box.left + box.right) / 2}
                y={box.bottom - 1.2 * rem}
                text-anchor="middle"
              >
                {openMap.value ? words.ribbon.noHeights : words.ribbon.noMapHeights}
              </text>
            </>
          )}
          <LegHeadings
            legs={legs}
            profile={profile}
            scale={scale}
            box={box}
            rem={rem}
            height={height}
            oneLine={oneLine}
          />
          {!oneLine && stretch && stretchStart !== undefined && (
            <g data-test="ribbon-stretch">
              {groundBetween(profile, stretchStart + stretch.fromM, stretchStart + stretch.toM).map(
                (piece, i) => (
                  <path key={i} class="ribbon-stretch" d={`M${groundPath(piece, scale)}`} />
                ),
              )}
            </g>
          )}
          {!oneLine && <CrossingMarks profile={profile} scale={scale} box={box} rem={rem} />}
          {cursorM !== null && !oneLine && (
            <g class="ribbon-cursor">
              <line x1={scale.x(cursorM)} x2={scale.x(cursorM)} y1={HEAD * rem} y2={box.bottom} />
              <text
                x={scale.x(cursorM)}
                y={(HEAD + 0.75) * rem}
                dx={cursorM > profile.lengthM / 2 ? -6 : 6}
                text-anchor={cursorM > profile.lengthM / 2 ? "end" : "start"}
              >
                {words.ribbon.at(
                  formatAlong(pointed?.atM ?? null, unit),
                  profile.legs[pointed?.leg ?? 0]?.from ?? "",
                  heightText(heightAt(profile, cursorM), unit),
                  [
                    landformHere.value && (landformHere.value.name ?? landformHere.value.kind),
                    pointed && hazardsAt(legs[pointed.leg]?.hazards ?? [], pointed.atM),
                  ]
                    .filter(Boolean)
                    .join(" · ") || null,
                )}
              </text>
            </g>
          )}
        </svg>
      )}
    </div>
  );
}

/** "cliff left · wetland on the way": dangers where the ribbon is pointed at. */
const hazardsAt = (hazards: LegFigures["hazards"], atM: number): string =>
  [
    ...new Set(
      gravestFirst(hazards.filter(({ fromM, toM }) => atM >= fromM && atM <= toM)).map(
        ({ kind, side }) => `${kindWord(kind)} ${adviceWords.ribbon.hazard[side]}`,
      ),
    ),
  ].join(" · ");

const heightText = (height: number | null, unit: LengthUnit): string | null =>
  height === null ? null : formatHeight(height, unit);

/** The walk in one line: for the foot of the ribbon, and all that is left of it in a narrow window. */
export function WalkTotals() {
  const totals = calmFigures.value?.totals;
  if (!totals || !calmFigures.value?.legs.length) return null;
  const unit = lengthUnit.value;
  const { steps } = walk.value.pace;
  return (
    <p class="walk-totals" data-test="totals">
      {[
        formatLength(totals.distanceM, unit),
        totals.paces === null ? "" : `${formatNumber(totals.paces)}\u00a0${words.pace(steps)}`,
        climbText(totals.climbM, totals.descentM, unit),
        totals.timeS === null ? "" : formatDuration(totals.timeS),
      ]
        .filter(Boolean)
        .join(" · ")}
    </p>
  );
}
