import { expect, test } from 'vitest';
import { CHI_SQUARED_95, regionFactor } from '#lib/numeric/statistics.ts';

test('95 % point of χ² with two degrees of freedom', () => {
	// any table of χ²: 5.991; the distribution function is 1 − e^(−x/2)
	expect(CHI_SQUARED_95).toBeCloseTo(5.9915, 4);
	expect(1 - Math.exp(-CHI_SQUARED_95 / 2)).toBeCloseTo(0.95, 14);
});

// Tables of the F distribution, 95 %, two numerator degrees (memory): F for m denominator degrees.
test.each([
	[1, 199.5],
	[2, 19.0],
	[3, 9.552],
	[5, 5.786],
	[10, 4.103],
	[30, 3.316],
	[120, 3.072]
])('region factor for n = m + 2 readings, m = %d, from F = %f', (m, f) => {
	const n = m + 2;
	expect(Math.abs(regionFactor(n) / ((2 * (n - 1) * f) / (n - 2)) - 1)).toBeLessThan(3e-4);
});

test('the region factor falls to that of a known covariance', () => {
	expect(regionFactor(1e9)).toBeCloseTo(CHI_SQUARED_95, 6);
	expect(regionFactor(2)).toBe(Infinity);
});
