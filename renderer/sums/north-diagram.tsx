/**
 * The three norths of a place, drawn to their true angles: true north with a star, grid north with a square,
 * magnetic north with half an arrowhead, as map margins have them.
 */
import { formatEastWest } from "../../core/units/format.ts";
import { normalise180 } from "../../core/units/angle.ts";
import type { North } from "../../core/walk/walk.ts";
import { sumsWords } from "../words/sums-words.ts";
import "./north-diagram.css";
import { frameOf, layRays, leaderOf, type NorthRay, onRay } from "./north-layout.ts";

/** Each has a length of its own: where the angles are tiny the marks at the tips still stand apart. */
const RAY: Readonly<Record<North, number>> = { true: 136, grid: 116, magnetic: 97 };
/** Marks stand at the tips, labels beyond them. */
const LABEL = { radius: 186, width: 108, height: 34 };
/** Two labels side by side at that distance need this. */
const LEAST_DEG = 35;
/** Below this an arc is too short to be seen. */
const ARC_DEG = 2;

interface Props {
  /** Grid north from true north, degrees, east positive. */
  readonly convergenceDeg: number;
  /** Magnetic north from true north; null when not known: then it is left out. */
  readonly declinationDeg: number | null;
}

export function NorthDiagram({ convergenceDeg, declinationDeg }: Props) {
  const rays: NorthRay[] = [
    { north: "true", deg: 0 },
    { north: "grid", deg: normalise180(convergenceDeg) },
    ...(declinationDeg === null ? [] : [{ north: "magnetic" as const, deg: normalise180(declinationDeg) }]),
  ];
  const laid = layRays(rays, LEAST_DEG);
  const { x, y, width, height } = frameOf(laid, RAY.true + 10, LABEL);
  const between = declinationDeg === null ? null : normalise180(declinationDeg - convergenceDeg);
  const text = sumsWords.diagram.text(
    formatEastWest(convergenceDeg),
    declinationDeg === null ? null : formatEastWest(declinationDeg),
    between === null ? null : formatEastWest(between),
  );
  return (
    <figure class="north-diagram">
      <svg viewBox={`${x} ${y} ${width} ${height}`} role="img" aria-label={text} data-test="north-diagram">
        {rays.length > 1 && <Arcs rays={rays} />}
        {laid.map((ray) => {
          const { north, deg, labelDeg } = ray;
          const [tipX, tipY] = onRay(deg, RAY[north]);
          const [labelX, labelY] = onRay(labelDeg, LABEL.radius);
          const leader = leaderOf(ray, RAY[north] + 12, LABEL);
          return (
            <g key={north} class={`north-ray ${north}`}>
              <line x1={0} y1={0} x2={tipX} y2={tipY} data-north={north} />
              <g transform={`translate(${tipX} ${tipY}) rotate(${deg})`}>
                <Mark north={north} />
              </g>
              {leader && <path class="north-leader" d={`M${leader.from.join(" ")}L${leader.to.join(" ")}`} />}
              <text x={labelX} y={labelY + (north === "true" ? 5 : -4)} text-anchor="middle">
                {sumsWords.diagram.names[north]}
              </text>
              {north !== "true" && (
                <text class="north-angle" x={labelX} y={labelY + 11} text-anchor="middle">
                  {offTrue(deg)}
                </text>
              )}
            </g>
          );
        })}
      </svg>
      <figcaption class="soft">
        {between === null
          ? sumsWords.diagram.noMagnetic
          : `${sumsWords.diagram.between(formatEastWest(between))}.`}{" "}
        {sumsWords.diagram.drawn}
      </figcaption>
    </figure>
  );
}

function offTrue(deg: number): string {
  const angle = formatEastWest(deg);
  return /[EW]$/.test(angle) ? sumsWords.diagram.offTrue(angle) : sumsWords.diagram.onTrue;
}

function Mark({ north }: { readonly north: North }) {
  if (north === "true") return <path class="north-mark" d={star(9)} />;
  if (north === "grid") return <rect class="north-mark" x={-4.5} y={-9} width={9} height={9} />;
  return <path class="north-mark" d="M0 -10L0 6L7 6Z" />;
}

/** A star of five points, the first upward. */
function star(radius: number): string {
  const corners = Array.from({ length: 10 }, (_, i) => onRay(i * 36, i % 2 ? radius * 0.42 : radius));
  return `M${corners.map(([x, y]) => `${x.toFixed(2)} ${(y - 2).toFixed(2)}`).join("L")}Z`;
}

/** From true north to each other, at distances of their own so that they do not hide each other. */
function Arcs({ rays }: { readonly rays: readonly NorthRay[] }) {
  return (
    <>
      {rays.slice(1).map(({ north, deg }, i) => {
        if (Math.abs(deg) < ARC_DEG) return null;
        const radius = 52 + 22 * i;
        const [x0, y0] = onRay(0, radius);
        const [x1, y1] = onRay(deg, radius);
        return (
          <path
            key={north}
            class="north-arc"
            d={`M${x0} ${y0}A${radius} ${radius} 0 0 ${deg > 0 ? 1 : 0} ${x1.toFixed(2)} ${y1.toFixed(2)}`}
          />
        );
      })}
    </>
  );
}
