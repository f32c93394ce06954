import { complexArray, polar, put } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { ratioFromDb } from '#lib/numeric/decibel.ts';

/**
 * The factor that moves a reflection from the calibration plane toward the device by `delay` s and `lossDb` dB one way:
 * e^(+j4πfτ)·10^(2L/20), since the wave passes the line twice (Pozar, *Microwave Engineering*, 4th ed., 2012, section
 * 4.3 on a shift of reference planes). It removes a matched line; a mismatch stays.
 */
export function extensionFactor(delay: number, lossDb: number, frequencies: ArrayLike<number>): ComplexArray {
	const out = complexArray(frequencies.length);
	const gain = ratioFromDb(2 * lossDb);
	for (let i = 0; i < frequencies.length; i++) {
		put(out, i, polar(gain, 4 * Math.PI * frequencies[i] * delay));
	}
	return out;
}
