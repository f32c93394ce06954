import { expect, test } from 'vitest';
import {
	largestQuantisationBias,
	quantisationStep,
	quantisationVariance,
	quantise,
	quantiseWithDither
} from '#lib/reflectometer/quantisation.ts';

test('a step of −80 dBm is 1e-3 of a wave of −20 dBm', () => {
	expect(quantisationStep(-80, -20)).toBeCloseTo(1e-3, 15);
	expect(quantisationStep(-Infinity, -20)).toBe(0);
});

test('values go to the nearest multiple, halves upward, and multiples stay', () => {
	const values = [-0.76, -0.75, -0.5, -0.24, 0, 0.24, 0.25, 0.3, 1.5];
	expect(values.map((value) => quantise(value, 0.5) + 0)).toEqual([-1, -0.5, -0.5, 0, 0, 0, 0.5, 0.5, 1.5]);
});

test('a step of zero leaves a value alone, with and without dither', () => {
	expect(quantise(0.123, 0)).toBe(0.123);
	expect(quantiseWithDither(0.123, 0, 0.7)).toBe(0.123);
	expect(largestQuantisationBias(1, 0)).toBe(0);
	expect(quantisationVariance(0)).toBe(0);
});

test('with dither no error is more than half a step', () => {
	const random = Array.from({ length: 200 }, (_, k) => Math.sin(12.9898 * k) * 2.1);
	const errors = random.map((normal, k) => quantiseWithDither(k / 70, 0.1, normal) - k / 70);
	expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(0.05 + 1e-12);
	expect(Math.max(...errors) - Math.min(...errors)).toBeGreaterThan(0.095);
});

// (Δ/π)·exp(−2π²σ²/Δ²), worked out by hand: σ = Δ/4 gives 0.0927·Δ.
test('the largest bias without dither', () => {
	expect(largestQuantisationBias(0.25, 1)).toBeCloseTo(0.092696, 6);
	expect(largestQuantisationBias(0, 2)).toBeCloseTo(2 / Math.PI, 12);
});
