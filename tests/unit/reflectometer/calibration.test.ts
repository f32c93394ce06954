import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { add, at, complex, magnitude, multiply, polar, put, scale, subtract } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { calibrationSensitivity, solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { faultOf } from '../../fault-of.ts';

const one = (value: Complex): ComplexArray => ({
	re: Float64Array.of(value.re),
	im: Float64Array.of(value.im)
});
const frequency = Float64Array.of(169.5e6);
const termsOf = (directivity: Complex, sourceMatch: Complex, tracking: Complex): ErrorTerms => ({
	directivity: one(directivity),
	sourceMatch: one(sourceMatch),
	tracking: one(tracking)
});
const osl = [one(complex(1)), one(complex(-1)), one(complex(0))] as const;

const measured = (terms: ErrorTerms, known: readonly ComplexArray[]) => {
	const [first, second, third] = known.map((gamma) => ({ known: gamma, raw: rawFromGamma(terms, gamma) }));
	return [first, second, third] as const;
};

const within = (smallest: number, largest: number) =>
	fc
		.tuple(
			fc.double({ min: smallest, max: largest, noNaN: true }),
			fc.double({ min: -Math.PI, max: Math.PI, noNaN: true })
		)
		.map(([size, angle]) => polar(size, angle));

test.prop([within(0, 0.5), within(0, 0.7), within(1e-3, 1), within(0, 1)], { seed: 1, numRuns: 500 })(
	'a calibration finds the terms, and correction the truth',
	(directivity, sourceMatch, tracking, gamma) => {
		const terms = termsOf(directivity, sourceMatch, tracking);
		const solved = solveThreeTerms(measured(terms, osl), frequency);
		// a reading keeps its digits to 1e-16; behind a loss of 60 dB a thousandth of it is signal
		const tolerance = 1e-12 / magnitude(tracking);
		expect(magnitude(subtract(at(solved.directivity, 0), directivity))).toBeLessThan(tolerance);
		expect(magnitude(subtract(at(solved.sourceMatch, 0), sourceMatch))).toBeLessThan(tolerance);
		expect(magnitude(subtract(at(solved.tracking, 0), tracking))).toBeLessThan(tolerance);
		const read = gammaFromRaw(solved, rawFromGamma(terms, one(gamma)));
		expect(magnitude(subtract(at(read, 0), gamma))).toBeLessThan(tolerance);
	}
);

const terms = termsOf(complex(0.1, -0.05), complex(-0.2, 0.15), complex(0.4, 0.3));

test('every frequency is solved on its own', () => {
	const wide: ErrorTerms = {
		directivity: { re: Float64Array.of(0.1, 0.2), im: Float64Array.of(0, 0.1) },
		sourceMatch: { re: Float64Array.of(0.3, -0.1), im: Float64Array.of(0.1, 0) },
		tracking: { re: Float64Array.of(0.9, 0.5), im: Float64Array.of(0, -0.5) }
	};
	const known = [1, -1, 0].map((re) => ({ re: Float64Array.of(re, re), im: new Float64Array(2) }));
	const solved = solveThreeTerms(measured(wide, known), Float64Array.of(1e8, 2e8));
	for (const name of ['directivity', 'sourceMatch', 'tracking'] as const) {
		for (const i of [0, 1]) {
			expect(magnitude(subtract(at(solved[name], i), at(wide[name], i)))).toBeLessThan(1e-14);
		}
	}
});

test('two standards of the same reflection are refused', () => {
	const known = [osl[0], osl[1], osl[1]];
	const fault = faultOf(() => solveThreeTerms(measured(terms, known), frequency));
	expect(fault.code).toBe('calibration-standards-alike');
	expect(fault.message).toContain('169500000 Hz');
	expect(fault.finding).toContain('second and the third');
});

test('two standards that read the same are refused', () => {
	const [open, short, load] = measured(terms, osl);
	const fault = faultOf(() => solveThreeTerms([open, { ...short, raw: open.raw }, load], frequency));
	expect(fault.code).toBe('calibration-readings-alike');
	expect(fault.finding).toContain('first and the second');
});

test('a port that lets nothing through is refused', () => {
	const closed = termsOf(complex(0.1), complex(0), complex(0));
	expect(faultOf(() => solveThreeTerms(measured(closed, osl), frequency)).code).toBe(
		'calibration-readings-alike'
	);
});

test('a reading that is not a number is refused', () => {
	const [open, short, load] = measured(terms, osl);
	const fault = faultOf(() => solveThreeTerms([open, short, { ...load, raw: one(complex(NaN)) }], frequency));
	expect(fault.code).toBe('calibration-unsolvable');
	expect(fault.place).toContain('169500000 Hz');
});

// L_o = Γ(Γ + 1)/2, L_s = Γ(Γ − 1)/2, L_l = 1 − Γ² for a perfect port: the textbook Lagrange polynomials of 1, −1, 0.
test('the sensitivity to ideal standards at a perfect port', () => {
	const perfect = termsOf(complex(0), complex(0), complex(1));
	const g = complex(0.4, -0.7);
	const square = multiply(g, g);
	const polynomials = [
		scale(add(square, g), 0.5),
		scale(subtract(square, g), 0.5),
		subtract(complex(1), square)
	];
	for (const k of [0, 1, 2] as const) {
		const sensitivity = at(calibrationSensitivity(perfect, osl, k, one(g)), 0);
		expect(magnitude(add(sensitivity, polynomials[k]))).toBeLessThan(1e-15);
	}
});

test('the sensitivity is what a small error in one reading does', () => {
	const known = [one(polar(0.98, -0.1)), one(polar(1, 3)), one(complex(0.02, 0.03))] as const;
	const gamma = one(complex(0.3, 0.6));
	const raw = rawFromGamma(terms, gamma);
	for (const k of [0, 1, 2] as const) {
		const error = polar(1e-6, 0.7);
		const standards = measured(terms, known);
		put(standards[k].raw, 0, add(at(standards[k].raw, 0), error));
		const read = at(gammaFromRaw(solveThreeTerms(standards, frequency), raw), 0);
		const stated = multiply(at(calibrationSensitivity(terms, known, k, gamma), 0), error);
		const moved = subtract(read, at(gamma, 0));
		expect(magnitude(subtract(moved, stated))).toBeLessThan(1e-5 * magnitude(moved));
	}
});
