import { expect, test } from 'vitest';
import {
	add,
	at,
	complex,
	complexArray,
	magnitude,
	multiply,
	polar,
	put,
	scale,
	subtract,
	ZERO
} from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { calibrationSensitivity } from '#lib/reflectometer/calibration.ts';
import {
	frozenScatter,
	influences,
	ownShare,
	readingSensitivity,
	sensitivities
} from '#lib/reflectometer/calibration-influence.ts';
import type { PlannedStandard } from '#lib/reflectometer/calibration-influence.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { fitTerms } from '#lib/reflectometer/least-squares.ts';

const one = (value: Complex): ComplexArray => ({
	re: Float64Array.of(value.re),
	im: Float64Array.of(value.im)
});
const termsOf = (directivity: Complex, sourceMatch: Complex, tracking: Complex): ErrorTerms => ({
	directivity: one(directivity),
	sourceMatch: one(sourceMatch),
	tracking: one(tracking)
});
const planned = (known: readonly Complex[], variances: readonly number[] = []): PlannedStandard[] =>
	known.map((gamma, k) => ({
		known: one(gamma),
		scatter: { variance: Float64Array.of(variances[k] ?? 1e-6), relation: complexArray(1) }
	}));

const terms = termsOf(complex(0.1, -0.05), complex(-0.2, 0.15), complex(0.4, 0.3));
const osl = [complex(1), complex(-1), complex(0)];
const five = [polar(0.98, -0.1), polar(1, 3), complex(0.02, 0.03), complex(-1 / 3), polar(0.8, 1)];
const variances = [1e-6, 3e-6, 1e-6, 5e-6, 2e-6];
const gammas = [complex(0), complex(0.3, 0.6), complex(-0.8, 0.1), complex(0, 1)];

// L_o = Γ(Γ + 1)/2, L_s = Γ(Γ − 1)/2, L_l = 1 − Γ²: the Lagrange polynomials of 1, −1, 0.
test('the influence of the ideal standards is that of the textbook polynomials', () => {
	const g = complex(0.4, -0.7);
	const square = multiply(g, g);
	const polynomials = [
		scale(add(square, g), 0.5),
		scale(subtract(square, g), 0.5),
		subtract(complex(1), square)
	];
	influences(terms, planned(osl, [1, 20, 3]), one(g)).forEach((influence, k) =>
		expect(magnitude(subtract(at(influence, 0), polynomials[k]))).toBeLessThan(1e-14)
	);
});

test('of three standards the sensitivities are those of calibrationSensitivity', () => {
	const known = [one(five[0]), one(five[1]), one(five[2])] as const;
	for (const gamma of gammas) {
		const all = sensitivities(terms, planned(five.slice(0, 3), variances), one(gamma));
		for (const k of [0, 1, 2] as const) {
			const three = at(calibrationSensitivity(terms, known, k, one(gamma)), 0);
			expect(magnitude(subtract(at(all[k], 0), three))).toBeLessThan(1e-12);
		}
	}
});

test('what all standards have wrong as 1, Γ or Γ² a corrected reflection has wrong in the same way', () => {
	for (const gamma of gammas) {
		const shares = influences(terms, planned(five, variances), one(gamma)).map((share) => at(share, 0));
		for (const power of [() => complex(1), (g: Complex) => g, (g: Complex) => multiply(g, g)]) {
			const sum = shares.reduce((s, share, k) => add(s, multiply(share, power(five[k]))), ZERO);
			expect(magnitude(subtract(sum, power(gamma)))).toBeLessThan(1e-13);
		}
	}
});

test('the shares of the standards in themselves add up to three', () => {
	const shares = five.map((_, k) => ownShare(terms, planned(five, variances), k)[0]);
	expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(3, 12);
	for (const share of shares) {
		expect(share).toBeGreaterThan(0);
		expect(share).toBeLessThan(1);
	}
	expect(ownShare(terms, planned(osl), 1)[0]).toBeCloseTo(1, 13);
});

/** The corrected reflection that stands for `gamma` after fitting readings of `actual` as if they were `declared`. */
function fitted(
	actual: readonly Complex[],
	declared: readonly Complex[],
	gamma: Complex,
	errors: readonly Complex[]
): Complex {
	const standards = planned(declared, variances).map((standard, k) => ({
		...standard,
		raw: one(add(at(rawFromGamma(terms, one(actual[k])), 0), errors[k] ?? ZERO))
	}));
	const solved = fitTerms(standards, Float64Array.of(1)).terms;
	return at(gammaFromRaw(solved, rawFromGamma(terms, one(gamma))), 0);
}

/** Half the difference of what an error and its opposite do, over the error. */
const slope = (result: (error: Complex) => Complex, error: Complex): Complex => {
	const difference = subtract(result(error), result(scale(error, -1)));
	const square = error.re * error.re + error.im * error.im;
	return scale(multiply(difference, complex(error.re, -error.im)), 0.5 / square);
};

test('the sensitivity of five standards is what a small error in one reading does, to 0.2 %', () => {
	for (const gamma of gammas)
		sensitivities(terms, planned(five, variances), one(gamma)).forEach((sensitivity, k) => {
			const found = slope(
				(error) => fitted(five, five, gamma, Object.assign([], { [k]: error }) as Complex[]),
				polar(1e-4, 0.7)
			);
			const stated = at(sensitivity, 0);
			expect(magnitude(subtract(found, stated))).toBeLessThan(2e-3 * magnitude(stated));
		});
});

test('the influence of five standards is what a wrong definition of one does, to 0.2 %', () => {
	for (const gamma of gammas)
		influences(terms, planned(five, variances), one(gamma)).forEach((influence, k) => {
			const found = slope(
				(error) => {
					const declared = [...five];
					declared[k] = add(five[k], error);
					return fitted(five, declared, gamma, []);
				},
				polar(1e-4, 0.7)
			);
			const stated = at(influence, 0);
			expect(magnitude(subtract(found, stated))).toBeLessThan(2e-3 * magnitude(stated));
		});
});

// Two equal readings of everything are as good as one of half the variance: the textbook σ²/N.
test('each standard measured twice halves the frozen variance', () => {
	const gamma = one(complex(0.3, 0.6));
	const once = frozenScatter(terms, planned(osl), gamma).variance[0];
	const twice = frozenScatter(terms, planned([...osl, ...osl]), gamma).variance[0];
	expect(twice / once).toBeCloseTo(0.5, 12);
});

// At a perfect port, by hand: Σ|L_k|²·σ² is σ² at each standard itself; at Γ = j it is (½ + ½ + 4)·σ².
test('the frozen variance of ideal standards at a perfect port', () => {
	const perfect = termsOf(complex(0), complex(0), complex(1));
	for (const [gamma, times] of [
		[complex(1), 1],
		[complex(-1), 1],
		[complex(0), 1],
		[complex(0, 1), 5]
	] as const)
		expect(frozenScatter(perfect, planned(osl), one(gamma)).variance[0] / 1e-6).toBeCloseTo(times, 12);
});

test('a reading passes into Γ by the slope of the correction', () => {
	const gamma = complex(0.3, 0.6);
	const raw = at(rawFromGamma(terms, one(gamma)), 0);
	const found = slope((error) => at(gammaFromRaw(terms, one(add(raw, error))), 0), polar(1e-4, 2));
	const stated = at(readingSensitivity(terms, one(gamma)), 0);
	expect(magnitude(subtract(found, stated))).toBeLessThan(1e-6 * magnitude(stated));
});

test('every frequency has its own influences', () => {
	const wide = planned(osl).map(({ known, scatter }) => {
		const twice = complexArray(2);
		put(twice, 0, at(known, 0));
		put(twice, 1, multiply(at(known, 0), polar(1, 0.5)));
		return {
			known: twice,
			scatter: { variance: Float64Array.of(scatter.variance[0], 1), relation: complexArray(2) }
		};
	});
	const both: ErrorTerms = {
		directivity: complexArray(2),
		sourceMatch: complexArray(2),
		tracking: { re: Float64Array.of(1, 1), im: new Float64Array(2) }
	};
	const gamma: ComplexArray = {
		re: Float64Array.of(1, Math.cos(0.5)),
		im: Float64Array.of(0, Math.sin(0.5))
	};
	const [open, short, load] = influences(both, wide, gamma);
	for (const i of [0, 1]) {
		expect(open.re[i]).toBeCloseTo(1, 13);
		expect(magnitude(at(short, i)) + magnitude(at(load, i))).toBeLessThan(1e-13);
	}
});
