import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { floorDeviation } from './noise.ts';

/**
 * Noise of the reference receiver. A raw reading is m = (b + test noise)/(a + reference noise), so that to first order its
 * variance, both quadratures together, is (N_test + |m|²·N_ref)/P: the reference adds noise where much comes back.
 */

/** White noise of both receivers as equivalents at the test port, dBm/Hz; −Infinity is a receiver without noise. */
export interface ReceiverFloors {
	readonly test: number;
	readonly reference: number;
}

/**
 * Standard deviation of one quadrature of a raw reading of size √(re² + im²), from those of the test receiver alone and of
 * the reference receiver at |m| = 1, each by `floorDeviation`. Both noises are circular and independent, so one complex
 * normal number of this size stands for the two. First order: right to the square of `reference`.
 */
export const readingDeviation = (test: number, reference: number, re: number, im: number): number =>
	Math.sqrt(test * test + (re * re + im * im) * reference * reference);

/**
 * `readingDeviation` of the noiseless raw readings `raw`, a frequency an element, in `bandwidth` Hz, for the actual level
 * of the source in dBm at each; written to `out`.
 */
export function readingDeviations(
	raw: ComplexArray,
	levelsDbm: ArrayLike<number>,
	floors: ReceiverFloors,
	bandwidth: number,
	out: Reals = new Float64Array(raw.re.length)
): Reals {
	for (let i = 0; i < raw.re.length; i++) {
		const test = floorDeviation(floors.test, bandwidth, levelsDbm[i]);
		const reference = floorDeviation(floors.reference, bandwidth, levelsDbm[i]);
		out[i] = readingDeviation(test, reference, raw.re[i], raw.im[i]);
	}
	return out;
}
