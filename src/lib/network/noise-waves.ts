import { complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { BOLTZMANN, STANDARD_TEMPERATURE } from '#lib/numeric/decibel.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { TwoPort } from './two-port.ts';

/** Correlation of the noise waves that leave the two ports of a part, W/Hz, over its frequencies; c21 is the conjugate of c12. */
export interface NoiseWaves {
	readonly c11: Reals;
	readonly c22: Reals;
	readonly c12: ComplexArray;
}

/**
 * Noise waves of a passive part at one temperature in K (not negative), both ports in 50 Ω that give no noise themselves:
 * C = kT(I − S·S†) (Bosma, Philips Research Reports Supplements 10, 1967; Wedge & Rutledge, IEEE Trans. MTT 40(11), 1992).
 * It tells nothing of a part with gain: there the diagonal may turn negative.
 */
export function passiveNoise(part: TwoPort, temperature = STANDARD_TEMPERATURE): NoiseWaves {
	const { s11, s12, s21, s22 } = part;
	const n = s11.re.length;
	const kt = BOLTZMANN * temperature;
	const waves: NoiseWaves = {
		c11: new Float64Array(n),
		c22: new Float64Array(n),
		c12: complexArray(n)
	};
	const square = ({ re, im }: ComplexArray, i: number): number => re[i] * re[i] + im[i] * im[i];
	for (let i = 0; i < n; i++) {
		waves.c11[i] = kt * (1 - square(s11, i) - square(s12, i));
		waves.c22[i] = kt * (1 - square(s21, i) - square(s22, i));
		waves.c12.re[i] =
			-kt * (s11.re[i] * s21.re[i] + s11.im[i] * s21.im[i] + s12.re[i] * s22.re[i] + s12.im[i] * s22.im[i]);
		waves.c12.im[i] =
			-kt * (s11.im[i] * s21.re[i] - s11.re[i] * s21.im[i] + s12.im[i] * s22.re[i] - s12.re[i] * s22.im[i]);
	}
	return waves;
}

/**
 * Noise factor of a passive part at `temperature` K from a 50 Ω source to port 2, a power ratio from 1 up, a frequency
 * an element: 1 + c22/(k·T0·|S21|²) with T0 = 290 K (definition of IEEE Std 161). A matched pad of loss L has
 * 1 + (L − 1)·T/T0. Infinity where nothing passes.
 */
export function noiseFactor(part: TwoPort, temperature = STANDARD_TEMPERATURE): Reals {
	const standard = BOLTZMANN * STANDARD_TEMPERATURE;
	return passiveNoise(part, temperature).c22.map((c22, i) => {
		const passed = part.s21.re[i] ** 2 + part.s21.im[i] ** 2;
		return passed === 0 ? Infinity : 1 + c22 / (standard * passed);
	});
}
