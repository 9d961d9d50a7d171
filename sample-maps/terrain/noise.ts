/**
 * Smooth noise over the plane. Only additions, multiplications and table look-ups, so that every engine gives the same
 * bits: no sines, no powers.
 * Method: gradient noise with a quintic fade, K. Perlin, "Improving noise", ACM TOG 21(3), 2002.
 */
import { latticeRandom } from "./random.ts";

/** Sixteen directions round the circle, to twelve digits: a table keeps the engine's own sine out of the terrain. */
const C1 = 0.923879532511;
const S1 = 0.382683432365;
const H = Math.SQRT1_2;
const GRADIENTS: readonly (readonly [number, number])[] = [
  [1, 0],
  [C1, S1],
  [H, H],
  [S1, C1],
  [0, 1],
  [-S1, C1],
  [-H, H],
  [-C1, S1],
  [-1, 0],
  [-C1, -S1],
  [-H, -H],
  [-S1, -C1],
  [0, -1],
  [S1, -C1],
  [H, -H],
  [C1, -S1],
];

function corner(seed: number, column: number, row: number, dx: number, dy: number): number {
  const [gx, gy] = GRADIENTS[Math.floor(latticeRandom(seed, column, row) * 16)] as readonly [number, number];
  return gx * dx + gy * dy;
}

const fade = (t: number): number => t * t * t * (t * (t * 6 - 15) + 10);

/** Noise of wavelength 1, about −0.7 … 0.7, mean 0. */
export function gradientNoise(seed: number, x: number, y: number): number {
  const column = Math.floor(x);
  const row = Math.floor(y);
  const dx = x - column;
  const dy = y - row;
  const u = fade(dx);
  const v = fade(dy);
  const south = corner(seed, column, row, dx, dy) * (1 - u) + corner(seed, column + 1, row, dx - 1, dy) * u;
  const north =
    corner(seed, column, row + 1, dx, dy - 1) * (1 - u) +
    corner(seed, column + 1, row + 1, dx - 1, dy - 1) * u;
  return south * (1 - v) + north * v;
}

/**
 * Several octaves of noise, each half the wavelength of the one before.
 * @param wavelengthM longest wavelength, metres
 * @param gain amplitude of each octave relative to the one before, 0–1
 * @returns about −1 … 1
 */
export function octaveNoise(
  seed: number,
  eastM: number,
  northM: number,
  wavelengthM: number,
  octaves: number,
  gain = 0.5,
): number {
  let sum = 0;
  let amplitude = 1;
  let total = 0;
  let frequency = 1 / wavelengthM;
  for (let octave = 0; octave < octaves; octave++) {
    // Each octave is shifted by an odd amount, else all share zeros at the lattice of the longest wave.
    sum +=
      amplitude *
      gradientNoise(
        seed + octave * 101,
        eastM * frequency + octave * 17.31,
        northM * frequency - octave * 9.73,
      );
    total += amplitude;
    amplitude *= gain;
    frequency *= 2;
  }
  return (1.6 * sum) / total;
}
