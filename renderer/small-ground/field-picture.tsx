/** The ground from above, to scale: stakes with their rings, legs between them, the corner to measure from, magnetic north. */
import type { FieldCourse } from "../../core/course/small-ground.ts";
import { stakePlaces } from "../../core/course/stake-places.ts";
import { fieldWords } from "../words/field-words.ts";

interface At {
  readonly x: number;
  readonly y: number;
}

export function FieldPicture({ course }: { readonly course: FieldCourse }) {
  const { stakes, legs } = course;
  const { lengthM, widthM, alongDeg } = course.wish;
  // Drawn in metres; type and signs go by the size of the ground.
  const unit = Math.max(lengthM, widthM) / 24;
  const places = new Map<string, At>(
    stakePlaces(course).map(({ label, alongM, acrossM }) => [label, { x: acrossM, y: lengthM - alongM }]),
  );
  const at = (label: string): At => places.get(label) ?? { x: 0, y: lengthM };
  const arrow = { x: widthM + 2.5 * unit, y: 2.5 * unit };
  return (
    <svg
      class="field-picture"
      viewBox={[-1.5 * unit, -1.5 * unit, widthM + 6 * unit, lengthM + 3 * unit].join(" ")}
      role="img"
      aria-label={fieldWords.picture(stakes.length, legs.length)}
      data-test="field-picture"
    >
      <rect class="field-ground" x={0} y={0} width={widthM} height={lengthM} />
      <rect class="field-ink" x={-unit / 4} y={lengthM - unit / 4} width={unit / 2} height={unit / 2} />
      {stakes.map(({ label, ringM }) => (
        <circle key={label} class="field-ring" cx={at(label).x} cy={at(label).y} r={ringM} />
      ))}
      {legs.map(({ from, to }, i) => (
        <line key={i} class="field-leg" x1={at(from).x} y1={at(from).y} x2={at(to).x} y2={at(to).y} />
      ))}
      {stakes.map(({ label }) => (
        <g key={label}>
          <circle class="field-ink" cx={at(label).x} cy={at(label).y} r={unit / 4} />
          <text
            class="field-label"
            x={at(label).x + unit / 2}
            y={at(label).y - unit / 2}
            font-size={unit}
            stroke-width={unit / 4}
          >
            {label}
          </text>
        </g>
      ))}
      <path
        class="field-leg"
        d={`M0 ${1.6 * unit}V${-1.6 * unit}M${-unit / 2} ${-0.6 * unit}L0 ${-1.6 * unit}L${unit / 2} ${-0.6 * unit}`}
        transform={`translate(${arrow.x} ${arrow.y}) rotate(${-alongDeg})`}
      />
      <text class="field-label" x={arrow.x} y={arrow.y + 3.2 * unit} font-size={unit} text-anchor="middle">
        {fieldWords.north}
      </text>
    </svg>
  );
}
