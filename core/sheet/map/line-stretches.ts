/** Straight enough stretches of a line for text. */
export interface Stretch {
  /** Middle of the stretch's chord. */
  readonly x: number;
  readonly y: number;
  /** Unit vector along it, in the line's direction. */
  readonly dx: number;
  readonly dy: number;
  /** Most the line strays from the chord, millimetres. */
  readonly strayMm: number;
}

/** Stretches of a length every `stepMm` along a line, those that stray too far left out. */
export function stretchesOf(line: Float64Array, lengthMm: number, stepMm: number, mostMm: number): Stretch[] {
  const n = line.length / 2;
  const far = new Float64Array(n);
  for (let i = 1; i < n; i++)
    far[i] =
      (far[i - 1] as number) +
      Math.hypot(
        (line[2 * i] as number) - (line[2 * i - 2] as number),
        (line[2 * i + 1] as number) - (line[2 * i - 1] as number),
      );
  const whole = far[n - 1] as number;
  const found: Stretch[] = [];
  let [a, b] = [0, 0];
  const at = (k: number, s: number): readonly [number, number] => {
    const step = (far[k + 1] as number) - (far[k] as number);
    const t = step > 0 ? (s - (far[k] as number)) / step : 0;
    const [x, y] = [line[2 * k] as number, line[2 * k + 1] as number];
    return [x + ((line[2 * k + 2] as number) - x) * t, y + ((line[2 * k + 3] as number) - y) * t];
  };
  for (let s = 0; s + lengthMm <= whole; s += stepMm) {
    while (a + 2 < n && (far[a + 1] as number) < s) a++;
    while (b + 2 < n && (far[b + 1] as number) < s + lengthMm) b++;
    const [[ax, ay], [bx, by]] = [at(a, s), at(b, s + lengthMm)];
    const chord = Math.hypot(bx - ax, by - ay);
    if (chord < 0.85 * lengthMm) continue;
    const [dx, dy] = [(bx - ax) / chord, (by - ay) / chord];
    let strayMm = 0;
    for (let k = a + 1; k <= b && strayMm <= mostMm; k++)
      strayMm = Math.max(
        strayMm,
        Math.abs(((line[2 * k] as number) - ax) * dy - ((line[2 * k + 1] as number) - ay) * dx),
      );
    if (strayMm <= mostMm) found.push({ x: (ax + bx) / 2, y: (ay + by) / 2, dx, dy, strayMm });
  }
  return found;
}
