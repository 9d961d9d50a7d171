/** A choice from a list under its label, as the forms of this folder have them. */
interface Props {
  readonly label: string;
  readonly value: string;
  readonly options: readonly (readonly [value: string, text: string])[];
  readonly pick: (value: string) => void;
  readonly test?: string;
}

export function LabelledChoice({ label, value, options, pick, test }: Props) {
  return (
    <label class="stacked">
      <span>{label}</span>
      <select
        class="field"
        value={value}
        {...(test ? { "data-test": test } : {})}
        onChange={(event) => pick(event.currentTarget.value)}
      >
        {options.map(([one, text]) => (
          <option key={one} value={one}>
            {text}
          </option>
        ))}
      </select>
    </label>
  );
}

export const entries = (texts: Readonly<Record<string, string>>): (readonly [string, string])[] =>
  Object.entries(texts);
