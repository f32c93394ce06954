import fc from 'fast-check';
import { at, complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { lineTwoPort } from '#lib/network/line.ts';
import { padResistors, padTwoPort, withErrors } from '#lib/network/pad.ts';
import type { TwoPort } from '#lib/network/two-port.ts';

/** Passive parts drawn at random, and the measures the property tests compare. */

export const FREQUENCIES = [0, 1e6, 169.5e6, 508.5e6, 3e9];
const N = FREQUENCIES.length;

const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });

export const aLine: fc.Arbitrary<TwoPort> = fc
	.record({
		characteristicImpedance: between(10, 300),
		length: between(0, 20),
		velocityFactor: between(0.3, 1),
		conductorLoss: between(0, 1e-5),
		dielectricLoss: between(0, 1e-10)
	})
	.map((line) => lineTwoPort(line, FREQUENCIES));

export const aLosslessLine: fc.Arbitrary<TwoPort> = fc
	.tuple(between(10, 300), between(0, 20))
	.map(([characteristicImpedance, length]) =>
		lineTwoPort(
			{ characteristicImpedance, length, velocityFactor: 0.7, conductorLoss: 0, dielectricLoss: 0 },
			FREQUENCIES
		)
	);

export const aPad: fc.Arbitrary<TwoPort> = fc
	.record({
		attenuationDb: between(0, 60),
		network: fc.constantFrom('pi' as const, 'tee' as const),
		errors: fc.tuple(between(-0.2, 0.2), between(-0.2, 0.2), between(-0.2, 0.2)),
		seriesInductance: between(0, 5e-9),
		shuntCapacitance: between(0, 2e-12)
	})
	.map(({ attenuationDb, network, errors, ...strays }) =>
		padTwoPort(withErrors(padResistors(attenuationDb, network), errors), FREQUENCIES, strays)
	);

export const aPart = fc.oneof(aLine, aPad);
export const aChain = fc.array(aPart, { minLength: 1, maxLength: 6 });

/** Reflections of magnitude up to `limit`, one a frequency. */
export const aGamma = (limit: number): fc.Arbitrary<ComplexArray> =>
	fc
		.array(fc.tuple(between(0, limit), between(-Math.PI, Math.PI)), { minLength: N, maxLength: N })
		.map((polar) => {
			const gamma = complexArray(N);
			polar.forEach(([size, angle], i) => {
				gamma.re[i] = size * Math.cos(angle);
				gamma.im[i] = size * Math.sin(angle);
			});
			return gamma;
		});

/** The largest distance between two complex arrays; NaN anywhere gives NaN. */
export const distance = (a: ComplexArray, b: ComplexArray): number =>
	Math.max(...Array.from(a.re, (re, i) => Math.hypot(re - b.re[i], a.im[i] - b.im[i])));

export const twoPortDistance = (a: TwoPort, b: TwoPort): number =>
	Math.max(distance(a.s11, b.s11), distance(a.s12, b.s12), distance(a.s21, b.s21), distance(a.s22, b.s22));

/**
 * The smaller eigenvalue of I − S†S, the least share of any incident power that is absorbed: not negative for a passive
 * part. The least over all frequencies.
 */
export function leastAbsorption(part: TwoPort): number {
	return Math.min(
		...FREQUENCIES.map((_, i) => {
			const [s11, s12, s21, s22] = [part.s11, part.s12, part.s21, part.s22].map((s) => at(s, i));
			const first = 1 - s11.re ** 2 - s11.im ** 2 - s21.re ** 2 - s21.im ** 2;
			const second = 1 - s12.re ** 2 - s12.im ** 2 - s22.re ** 2 - s22.im ** 2;
			const re = s11.re * s12.re + s11.im * s12.im + s21.re * s22.re + s21.im * s22.im;
			const im = s11.re * s12.im - s11.im * s12.re + s21.re * s22.im - s21.im * s22.re;
			return (first + second) / 2 - Math.hypot((first - second) / 2, re, im);
		})
	);
}
