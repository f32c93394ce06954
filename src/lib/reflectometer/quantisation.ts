import { ratioFromDb } from '#lib/numeric/decibel.ts';

/**
 * Quantisation: a receiver keeps real and imaginary part of the test wave b, noise included, as whole multiples of a fixed
 * step. The step is given as the level in dBm of a wave one step large; in a raw reading m = b/a it is the larger the
 * weaker the source is. (Widrow & Kollár, *Quantization Noise*, 2008.)
 */

/** The step in a raw reading when the source sends `levelDbm`. */
export const quantisationStep = (stepDbm: number, levelDbm: number): number =>
	ratioFromDb(stepDbm - levelDbm);

/** The nearest multiple of `step`, the upper one of two equally near; a step of 0 leaves the value as it is. */
export const quantise = (value: number, step: number): number =>
	step > 0 ? step * Math.floor(value / step + 0.5) : value;

/**
 * What a normal number is multiplied by before its fraction is taken. The fraction of so wide a normal is uniform and
 * independent of the number itself, as far as the grain of the generator goes: what would be left is the characteristic
 * function of a standard normal at 2π·2²⁰ (Widrow's theorem). A power of two keeps the product exact.
 */
const SPREAD = 2 ** 20;

/**
 * `quantise` with subtractive dither: a uniform number, one step wide, is added before the rounding and taken off again
 * after it. Then the error is uniform within ±step/2, has no bias and does not depend on the value, however quiet that is
 * (Schuchman, IEEE Trans. Communication Technology 12, 1964). The dither is the fraction of a standard normal number,
 * which may be the very one the noise in `value` came from: it costs no random number of its own.
 */
export function quantiseWithDither(value: number, step: number, normal: number): number {
	if (!(step > 0)) return value;
	const wide = SPREAD * normal;
	const dither = wide - Math.floor(wide);
	return step * (Math.floor(value / step + dither + 0.5) - dither);
}

/**
 * Variance that rounding adds to a quadrature. With dither it is exact; without, it holds if the noise of the quadrature is
 * at least half a step: there the worst value of the signal differs from it by a tenth, at a full step by 1e-7.
 */
export const quantisationVariance = (step: number): number => (step * step) / 12;

/**
 * Largest bias of the mean of many readings without dither, when their noise has the standard deviation `deviation` in the
 * quadrature: (Δ/π)·exp(−2π²σ²/Δ²), reached a quarter of a step from a whole multiple. It is the first term of a series:
 * right to 0.4 % from σ = Δ/5 on, 8 % low at Δ/10; without noise it says 0.32 steps, where half a step is lost.
 */
export const largestQuantisationBias = (deviation: number, step: number): number =>
	step > 0 ? (step / Math.PI) * Math.exp(-2 * ((Math.PI * deviation) / step) ** 2) : 0;
