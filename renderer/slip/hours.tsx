/** Arrival, light and turning back by the walk's clock, with a warning when it goes into the dark. */
import type { DaylightFigure, LegFigures, WalkFigures } from "../../core/legs/figures.ts";
import { sunsetMarginWords } from "../../core/legs/times/daylight-words.ts";
import { clockOf } from "../../core/legs/times/zoned-clock.ts";
import { ABSENT } from "../../core/units/format.ts";
import { runCommand } from "../app/commands.ts";
import { openSheet } from "../settings/settings-state.ts";
import { walk } from "../walk-state/walk-document.ts";
import { settingsWords } from "../words/settings-words.ts";
import { darkWarnings } from "./dark-warnings.ts";
import { Ask, HowPanel } from "./how.tsx";

const words = settingsWords.slip;

export function Hours({ leg, all }: { readonly leg: LegFigures; readonly all: WalkFigures }) {
  const { date } = walk.value;
  const { start, daylight, turnBackBy } = all;
  const clock = (iso: string | null): string => clockOf(iso, date) ?? ABSENT;
  return (
    <section class="slip-hours" aria-label={words.hours}>
      <dl class="figure-row">
        {start !== null && (
          <div>
            <dt class="soft">{words.arrive(leg.to)}</dt>
            <dd>
              <Ask figure="arrival" group="hours">
                <span data-test="arrival">{clock(leg.arrival)}</span>
              </Ask>
            </dd>
          </div>
        )}
        {daylight && (
          <div>
            <dt class="soft">{daylight.allDay ? words.noSunset : words.sunset}</dt>
            <dd>
              <Ask figure="daylight" group="hours">
                <span data-test="sunset">{lightText(daylight, clock)}</span>
              </Ask>
            </dd>
          </div>
        )}
        {turnBackBy !== null && (
          <div>
            <dt class="soft">{words.turnBack}</dt>
            <dd>
              <Ask figure="daylight" group="hours">
                <span data-test="turn-back">{clock(turnBackBy)}</span>
              </Ask>
            </dd>
          </div>
        )}
      </dl>
      {start === null && (
        <p class="soft">
          {words.noStart}{" "}
          <button
            type="button"
            class="ask"
            data-test="give-start"
            onClick={() => {
              openSheet.value = "time";
              runCommand("settings");
            }}
          >
            {words.giveStart}
          </button>
        </p>
      )}
      {start !== null && daylight && sunsetMarginWords(daylight) !== null && !daylight.dark && (
        <p class="soft" data-test="sunset-margin">
          {words.ends(sunsetMarginWords(daylight) as string)}
        </p>
      )}
      {darkWarnings(all, date).map((warning) => (
        <p key={warning} class="aid mind" data-test="dark-warning">
          <b>{words.mind}</b> {warning}
        </p>
      ))}
      <HowPanel group="hours" of={["arrival", "daylight"]} leg={leg} />
    </section>
  );
}

const lightText = ({ allDay, sunset }: DaylightFigure, clock: (iso: string | null) => string): string =>
  allDay ? words.allDay[allDay] : clock(sunset);
