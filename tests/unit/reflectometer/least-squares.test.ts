import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { add, at, complex, complexArray, magnitude, polar, put, subtract } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { rawFromGamma } from '#lib/reflectometer/correction.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { fitTerms } from '#lib/reflectometer/least-squares.ts';
import type { NoisyStandard } from '#lib/reflectometer/least-squares.ts';
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
const standard = (known: Complex, raw: ComplexArray, variance = 1): NoisyStandard => ({
	known: one(known),
	raw,
	scatter: { variance: Float64Array.of(variance), relation: complexArray(1) }
});
const measured = (terms: ErrorTerms, known: readonly Complex[]): NoisyStandard[] =>
	known.map((gamma) => standard(gamma, rawFromGamma(terms, one(gamma))));
const farthest = (a: ErrorTerms, b: ErrorTerms): number =>
	Math.max(
		...(['directivity', 'sourceMatch', 'tracking'] as const).map((name) =>
			magnitude(subtract(at(a[name], 0), at(b[name], 0)))
		)
	);

const within = (smallest: number, largest: number) =>
	fc
		.tuple(
			fc.double({ min: smallest, max: largest, noNaN: true }),
			fc.double({ min: -Math.PI, max: Math.PI, noNaN: true })
		)
		.map(([size, angle]) => polar(size, angle));
const variances = fc.array(fc.double({ min: 1e-4, max: 1e4, noNaN: true }), { minLength: 5, maxLength: 5 });

const osl = [complex(1), complex(-1), complex(0)];
const terms = termsOf(complex(0.1, -0.05), complex(-0.2, 0.15), complex(0.4, 0.3));

test.prop([within(0, 0.5), within(0, 0.7), within(0.1, 1), variances], { seed: 2, numRuns: 500 })(
	'three standards are solved as by solveThreeTerms, whatever their variances',
	(directivity, sourceMatch, tracking, variance) => {
		const exact = measured(termsOf(directivity, sourceMatch, tracking), osl);
		const noise = [complex(0.003, -0.002), complex(-0.001, 0.004), complex(0.002, 0.001)];
		const [first, second, third] = exact.map(({ raw }, k) =>
			standard(osl[k], one(add(at(raw, 0), noise[k])), variance[k])
		);
		const fitted = fitTerms([first, second, third], frequency);
		const solved = solveThreeTerms([first, second, third], frequency);
		expect(farthest(fitted.terms, solved)).toBeLessThan(1e-12);
		for (const residual of fitted.residuals) expect(magnitude(at(residual, 0))).toBeLessThan(1e-14);
	}
);

const five = [...osl, complex(-1 / 3), polar(0.8, 1)];

test.prop([within(0, 0.5), within(0, 0.7), within(1e-4, 1), variances], { seed: 3, numRuns: 500 })(
	'five standards without noise give the terms, whatever their variances',
	(directivity, sourceMatch, tracking, variance) => {
		const truth = termsOf(directivity, sourceMatch, tracking);
		const standards = measured(truth, five).map(({ raw }, k) => standard(five[k], raw, variance[k]));
		const fitted = fitTerms(standards, frequency);
		// a reading keeps its digits to 1e-16; behind a loss of 80 dB a ten-thousandth of it is signal
		expect(farthest(fitted.terms, truth)).toBeLessThan(1e-12 / magnitude(tracking));
	}
);

const noisy = (): NoisyStandard[] =>
	measured(terms, five).map(({ raw }, k) =>
		standard(five[k], one(add(at(raw, 0), polar(0.01, 2 * k))), [1, 2, 4, 1, 3][k] * 1e-4)
	);

// The definition of least squares: no other terms explain the readings better.
test('the weighted sum of squares is at its lowest', () => {
	const { terms: found, residuals, chiSquared } = fitTerms(noisy(), frequency);
	const squaresOf = (candidate: ErrorTerms): number =>
		noisy().reduce((sum, { known, raw, scatter }) => {
			const residual = magnitude(subtract(at(raw, 0), at(rawFromGamma(candidate, known), 0)));
			return sum + (2 * residual ** 2) / scatter.variance[0];
		}, 0);
	const lowest = squaresOf(found);
	expect(chiSquared[0] / lowest).toBeCloseTo(1, 12);
	expect(magnitude(at(residuals[0], 0))).toBeGreaterThan(1e-3);
	for (const name of ['directivity', 'sourceMatch', 'tracking'] as const)
		for (const angle of [0, 1, 2, 3, 4, 5]) {
			const moved = one(add(at(found[name], 0), polar(1e-5, angle)));
			expect(squaresOf({ ...found, [name]: moved })).toBeGreaterThan(lowest);
		}
});

test('the order of the standards does not matter', () => {
	const forward = fitTerms(noisy(), frequency).terms;
	expect(farthest(fitTerms(noisy().reverse(), frequency).terms, forward)).toBeLessThan(1e-9);
});

test('a standard of a huge variance counts for nothing', () => {
	const four = noisy().slice(0, 4);
	const lost = standard(five[4], one(complex(7, 7)), 1e20);
	const without = fitTerms(four, frequency).terms;
	expect(farthest(fitTerms([...four, lost], frequency).terms, without)).toBeLessThan(1e-9);
});

test('two readings of one standard count as their mean', () => {
	const [open, short, load] = noisy();
	const later = standard(five[0], one(add(at(open.raw, 0), complex(0.02, 0.01))), 1e-4);
	const mean = standard(five[0], one(add(at(open.raw, 0), complex(0.01, 0.005))), 0.5e-4);
	const twice = fitTerms([open, later, short, load], frequency);
	expect(farthest(twice.terms, fitTerms([mean, short, load], frequency).terms)).toBeLessThan(1e-10);
	expect(subtract(at(twice.residuals[1], 0), at(twice.residuals[0], 0)).re).toBeCloseTo(0.02, 10);
});

test('every frequency is solved on its own', () => {
	const wide = noisy().map(({ known, raw, scatter }, k) => {
		const twice = (array: ComplexArray, other: Complex): ComplexArray => {
			const out = complexArray(2);
			put(out, 0, at(array, 0));
			put(out, 1, other);
			return out;
		};
		return {
			known: twice(known, five[k]),
			raw: twice(raw, at(rawFromGamma(terms, one(five[k])), 0)),
			scatter: { variance: Float64Array.of(scatter.variance[0], 1), relation: complexArray(2) }
		};
	});
	const { terms: found } = fitTerms(wide, Float64Array.of(1e8, 2e8));
	const alone = fitTerms(noisy(), frequency).terms;
	for (const name of ['directivity', 'sourceMatch', 'tracking'] as const) {
		expect(at(found[name], 0)).toEqual(at(alone[name], 0));
		expect(magnitude(subtract(at(found[name], 1), at(terms[name], 0)))).toBeLessThan(1e-13);
	}
});

test('the condition grows as two standards become alike, and is no matter of the port', () => {
	const conditionOf = (port: ErrorTerms, distance: number): number =>
		fitTerms(measured(port, [complex(1), complex(-1), complex(-1, distance)]), frequency).condition[0];
	expect(conditionOf(terms, 0.01) / conditionOf(terms, 0.1)).toBeCloseTo(10, 0);
	const padded = termsOf(complex(0.03), complex(-0.2, 0.15), complex(1e-3));
	expect(conditionOf(padded, 0.1) / conditionOf(terms, 0.1)).toBeCloseTo(1, 8);
	const ideal = fitTerms(measured(terms, osl), frequency).condition[0];
	expect(ideal).toBeGreaterThanOrEqual(3);
	expect(ideal).toBeLessThan(10);
});

test('fewer than three different reflections are refused', () => {
	const known = [complex(1), complex(-1), complex(1), complex(-1, 1e-7)];
	const fault = faultOf(() => fitTerms(measured(terms, known), frequency));
	expect(fault.code).toBe('calibration-standards-few');
	expect(fault.message).toContain('169500000 Hz: Of the 4 standards only 2 ');
	expect(faultOf(() => fitTerms(measured(terms, osl.slice(1)), frequency)).code).toBe(fault.code);
});

test('fewer than three different readings are refused', () => {
	const [first, ...others] = measured(terms, five);
	const same = others.map((other) => ({ ...other, raw: first.raw }));
	const fault = faultOf(() => fitTerms([first, ...same], frequency));
	expect(fault.code).toBe('calibration-readings-few');
	expect(fault.finding).toContain('5 standards only 1 differ');
});

test.each([0, -1, NaN, Infinity])('a predicted variance of %d is refused', (variance) => {
	const [open, short, load] = measured(terms, osl);
	const wrong = { ...short, scatter: { ...short.scatter, variance: Float64Array.of(variance) } };
	const fault = faultOf(() => fitTerms([open, wrong, load], frequency));
	expect(fault.code).toBe('calibration-variance');
	expect(fault.finding).toContain(`standard 2 is ${variance}`);
});

test('a reading that is not a number is refused', () => {
	const [open, short, load] = measured(terms, osl);
	const fault = faultOf(() => fitTerms([open, short, { ...load, raw: one(complex(NaN)) }], frequency));
	expect(fault.code).toBe('calibration-no-fit');
	expect(fault.place).toContain('169500000 Hz');
});
