import { at, complexArray, multiply, put } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { dbFromPower } from '#lib/numeric/decibel.ts';

/**
 * Range switching: the test receiver turns its gain up for weak waves, and no two gains agree exactly. Each range multiplies
 * the whole raw reading, e00 and e10e01 alike, by a factor of its own close to 1. A calibration made in one range is off by
 * the ratio of the factors in another.
 */
export interface ReceiverRange {
	/** The range serves levels at the test port up to and including this, dBm. */
	readonly highest: number;
	readonly factor: Complex;
}

/**
 * Index of the range that serves a wave of `levelDbm`, −Infinity included: the first whose highest level is not below it;
 * the last one takes all that is above. `ranges`, one or more, stand in order of rising level. The limits are the same on
 * the way up and down (no hysteresis), so that the range is a function of the level alone.
 */
export function rangeAt(levelDbm: number, ranges: readonly ReceiverRange[]): number {
	let k = 0;
	while (k < ranges.length - 1 && levelDbm > ranges[k].highest) k++;
	return k;
}

/**
 * The range of each noiseless raw reading, a frequency an element, for the actual level of the source in dBm at each:
 * the level at the test receiver is |m|² above it. At most 256 ranges.
 */
export function rangesOf(
	raw: ComplexArray,
	levelsDbm: ArrayLike<number>,
	ranges: readonly ReceiverRange[]
): Uint8Array<ArrayBuffer> {
	const out = new Uint8Array(raw.re.length);
	for (let i = 0; i < out.length; i++) {
		const returned = dbFromPower(raw.re[i] ** 2 + raw.im[i] ** 2);
		out[i] = rangeAt(levelsDbm[i] + returned, ranges);
	}
	return out;
}

/** Raw readings with the factor of the range each is taken in (`rangesOf`), written to `out`, which may be `raw`. */
export function throughRanges(
	raw: ComplexArray,
	used: ArrayLike<number>,
	ranges: readonly ReceiverRange[],
	out: ComplexArray = complexArray(raw.re.length)
): ComplexArray {
	for (let i = 0; i < raw.re.length; i++) put(out, i, multiply(at(raw, i), ranges[used[i]].factor));
	return out;
}
