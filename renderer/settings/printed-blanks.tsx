/** What a map's margin says of declination, written as it stands there. */
import { useId, useState } from "preact/hooks";
import type { PrintedNorth } from "../../core/geodesy/printed-declination.ts";
import { settingsWords } from "../words/settings-words.ts";
import { Choice, Reason } from "./entry.tsx";
import type { PrintedBlank, PrintedEntry, PrintedReading } from "./printed-entry.ts";

const words = settingsWords.declination;

interface Props {
  readonly entry: PrintedEntry;
  readonly reading: PrintedReading;
  readonly change: (entry: PrintedEntry) => void;
  /** One is done with a blank. */
  readonly take: (entry: PrintedEntry) => void;
}

export function PrintedBlanks({ entry, reading, change, take }: Props) {
  // Complaints wait until one has left the blank: half an angle is no mistake yet.
  const [left, setLeft] = useState<readonly PrintedBlank[]>([]);
  const id = useId();
  const done = (name: PrintedBlank, value: string): void => {
    take({ ...entry, [name]: value });
    setLeft([...left.filter((one) => one !== name), name]);
  };
  const blank = (name: PrintedBlank, placeholder: string) => {
    const wrong = left.includes(name) && reading.faults[name] !== undefined;
    return (
      <input
        class="blank"
        type="text"
        aria-label={words[name]}
        title={words[name]}
        aria-invalid={wrong}
        {...(wrong ? { "aria-describedby": `${id}-${name}` } : {})}
        autocomplete="off"
        spellcheck={false}
        placeholder={placeholder}
        value={entry[name]}
        data-test={`printed-${name}`}
        onInput={({ currentTarget: { value } }) => {
          change({ ...entry, [name]: value });
          setLeft(left.filter((one) => one !== name));
        }}
        onBlur={(event) => done(name, event.currentTarget.value)}
        onKeyDown={(event) => event.key === "Enter" && done(name, event.currentTarget.value)}
      />
    );
  };
  const reasons = left.flatMap((name) => {
    const fault = reading.faults[name];
    return fault ? [{ name, fault }] : [];
  });
  const missing =
    reading.empty || reading.printed || Object.keys(reading.faults).length > 0
      ? null
      : entry.value.trim() === ""
        ? words.valueMissing
        : words.yearMissing;
  return (
    <>
      <p class="sum">
        {words.marginGives}{" "}
        <Choice<PrintedNorth["of"]>
          label={words.of}
          value={entry.of}
          options={[
            ["declination", words.ofs.declination],
            ["gridMagnetic", words.ofs.gridMagnetic],
          ]}
          pick={(of) => {
            change({ ...entry, of });
            take({ ...entry, of });
          }}
          test="printed-of"
        />{" "}
        {words.valueLead} {blank("value", "12° 30′ E")} {words.yearLead} {blank("year", "2012")}
        {words.changeLead} {blank("change", "6′ W")}.
      </p>
      {reasons.map(({ name, fault }) => (
        <Reason key={name} id={`${id}-${name}`} fault={fault} />
      ))}
      {missing && <p class="soft">{missing}</p>}
    </>
  );
}
