/** Words of the slope shading. */
export const slopeWords = {
  command: "Shade the ground by slope",
  hide: "Take the slope shading away",
  title: "Slope of the ground",
  from: (low: number, high: number | null) => (high === null ? `from ${low}°` : `${low}–${high}°`),
  caution: (cell: string | null) =>
    `${cell ? `Worked out from heights ${cell} apart. ` : ""}Between them short steep steps and small crags do not show: look before you rely on it.`,
  close: "Take the slope shading away",
  noMap: "Open a map first: the slope is worked out from its heights",
  noTerrain:
    "This map has contours but no terrain heights, so the slope of the ground is not known everywhere",
};
