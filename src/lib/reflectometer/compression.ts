import { complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { powerFromDb } from '#lib/numeric/decibel.ts';

/**
 * Receiver compression, a law on the test wave: b·(1 + |b|²/s²)^(−1/2), which never keeps more than s and does not turn the
 * phase. It is the smooth limiter of Rapp (2nd European Conference on Satellite Communications, 1991; from memory) with
 * its sharpness set to 1, which is our choice. The data sheet states the level |b|² at which 1 dB is lost.
 */

/** |b|²/s² where 1 dB is lost: 1 + |b|²/s² = 10^(1/10). */
const AT_ONE_DB = powerFromDb(1) - 1;

/**
 * |a|²/s² for a source that sends `levelDbm` into a receiver which loses 1 dB at `compressionDbm`; times |m|² it is
 * |b|²/s². `compressionDbm` may be Infinity: no compression.
 */
export const compressionStrength = (levelDbm: number, compressionDbm: number): number =>
	AT_ONE_DB * powerFromDb(levelDbm - compressionDbm);

/** What is left of an amplitude: (1 + strength·|m|²)^(−1/2). At small levels it loses strength·|m|²/2. */
export const compressionGain = (strength: number, re: number, im: number): number =>
	1 / Math.sqrt(1 + strength * (re * re + im * im));

/**
 * Raw readings as a compressing receiver shows them, a frequency an element: `levelsDbm` is the actual level of the source
 * at each. Written to `out`, which may be `raw`. Noise is far below the levels that compress, so it may be added after.
 */
export function compressed(
	raw: ComplexArray,
	levelsDbm: ArrayLike<number>,
	compressionDbm: number,
	out: ComplexArray = complexArray(raw.re.length)
): ComplexArray {
	for (let i = 0; i < raw.re.length; i++) {
		const re = raw.re[i];
		const im = raw.im[i];
		const gain = compressionGain(compressionStrength(levelsDbm[i], compressionDbm), re, im);
		out.re[i] = re * gain;
		out.im[i] = im * gain;
	}
	return out;
}
