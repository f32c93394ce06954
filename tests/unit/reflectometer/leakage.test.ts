import { expect, test } from 'vitest';
import {
	add,
	at,
	complexArray,
	divide,
	magnitude,
	multiply,
	ONE,
	polar,
	put,
	subtract
} from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { leakage, rawChangeError, withLeakage } from '#lib/reflectometer/leakage.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';

const POINTS = 41;
const frequencies = Float64Array.from({ length: POINTS }, (_, i) => 160e6 + 0.5e6 * i);
const terms = portErrorTerms(
	{
		directivity: { size: -20, delay: 0.4e-9 },
		sourceMatch: { size: -14, delay: 0.7e-9 },
		tracking: { size: -6, delay: 1.1e-9 }
	},
	frequencies
);
const gamma = complexArray(POINTS);
for (let i = 0; i < POINTS; i++) put(gamma, i, polar(0.9, i / 6));
const definitions = {
	open: { capacitance: 50e-15 },
	short: { inductance: 0.1e-9 },
	load: { resistance: 50, inductance: 0 }
};

/** The error terms a calibration finds while `leak` is there. */
function calibrated(leak: ComplexArray) {
	const [open, short, load] = (['open', 'short', 'load'] as const).map((name) => {
		const known = standardGamma(name, definitions, frequencies);
		return { known, raw: withLeakage(rawFromGamma(terms, known), leak) };
	});
	return solveThreeTerms([open, short, load], frequencies);
}

const largest = (a: ComplexArray, b: ComplexArray): number =>
	Math.max(...Array.from(a.re, (_, i) => magnitude(subtract(at(a, i), at(b, i)))));

test('the size and the turning of a leakage', () => {
	const leak = leakage({ size: -40, delay: 2e-9 }, [0, 125e6]);
	expect(at(leak, 0)).toEqual({ re: 0.01, im: -0 });
	expect(leak.re[1]).toBeCloseTo(0, 15);
	expect(leak.im[1]).toBeCloseTo(-0.01, 15);
	expect(magnitude(at(leakage({ size: -Infinity, delay: 0 }, [1e8]), 0))).toBe(0);
});

// Closed form: m + leak = (e00 + leak) + e10e01·Γ/(1 − e11Γ), a reflectometer with another directivity.
test('a leakage that stays is taken for directivity, and nothing is wrong', () => {
	const leak = leakage({ size: -26, delay: 3e-9 }, frequencies);
	const found = calibrated(leak);
	for (let i = 0; i < POINTS; i++) {
		const shifted = add(at(terms.directivity, i), at(leak, i));
		expect(magnitude(subtract(at(found.directivity, i), shifted))).toBeLessThan(1e-13);
	}
	expect(largest(found.sourceMatch, terms.sourceMatch)).toBeLessThan(1e-13);
	expect(largest(found.tracking, terms.tracking)).toBeLessThan(1e-13);
	const read = gammaFromRaw(found, withLeakage(rawFromGamma(terms, gamma), leak));
	expect(largest(read, gamma)).toBeLessThan(1e-12);
});

test('a leakage that has changed since the calibration is wrong by δ·(1 − e11Γ)²/(e10e01)', () => {
	const before = leakage({ size: -40, delay: 3e-9 }, frequencies);
	const after = leakage({ size: -60, delay: 5e-9 }, frequencies);
	const found = calibrated(before);
	const read = gammaFromRaw(found, withLeakage(rawFromGamma(terms, gamma), after));
	const change = complexArray(POINTS);
	for (let i = 0; i < POINTS; i++) put(change, i, subtract(at(after, i), at(before, i)));
	const stated = rawChangeError(terms, gamma, change);
	for (let i = 0; i < POINTS; i++) {
		const error = subtract(at(read, i), at(gamma, i));
		expect(magnitude(subtract(at(stated, i), error))).toBeLessThan(1e-12);
		const trips = subtract(ONE, multiply(at(terms.sourceMatch, i), at(gamma, i)));
		const slope = divide(multiply(trips, trips), at(terms.tracking, i));
		const first = multiply(at(change, i), slope);
		// the next order is e11·δ·(1 − e11Γ)/(e10e01), here at most 0.2·0.011·1.18/0.5
		expect(magnitude(subtract(error, first)) / magnitude(first)).toBeLessThan(0.0055);
		expect(magnitude(error)).toBeGreaterThan(0.01);
	}
});

test('results may take the place of their arguments', () => {
	const raw = rawFromGamma(terms, gamma);
	const leak = leakage({ size: -30, delay: 0 }, frequencies);
	const plain = withLeakage(raw, leak);
	expect(withLeakage(raw, leak, raw)).toBe(raw);
	expect(raw).toEqual(plain);
	const error = rawChangeError(terms, gamma, leak);
	rawChangeError(terms, gamma, leak, leak);
	expect(leak).toEqual(error);
});
