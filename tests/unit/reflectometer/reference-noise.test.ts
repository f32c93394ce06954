import { expect, test } from 'vitest';
import { floorDeviation } from '#lib/reflectometer/noise.ts';
import { readingDeviation, readingDeviations } from '#lib/reflectometer/reference-noise.ts';

const raw = { re: Float64Array.of(0, 0.6, 1.2), im: Float64Array.of(0, 0.8, -0.9) };

// σ_m² = (N_test + |m|²·N_ref)/P, both quadratures together, worked out: floors of −113 and −117 dBm/Hz in 1 kHz are
// 5.012e-12 and 1.995e-12 W, and −20 dBm is 1e-5 W.
test('variance of a reading from the floors of both receivers', () => {
	const out = readingDeviations(raw, [-20, -20, -20], { test: -113, reference: -117 }, 1000);
	const total = Array.from(out, (deviation) => 2 * deviation ** 2);
	[5.01187e-7, 7.00713e-7, 9.50121e-7].forEach((expected, i) => {
		expect(total[i] / expected).toBeCloseTo(1, 5);
	});
});

test('without reference noise it is the floor alone, at every level its own', () => {
	const levels = [-20, -30, -40];
	const out = new Float64Array(3);
	expect(readingDeviations(raw, levels, { test: -113, reference: -Infinity }, 10, out)).toBe(out);
	levels.forEach((level, i) => expect(out[i]).toBeCloseTo(floorDeviation(-113, 10, level), 15));
});

test('nothing returned leaves the noise of the test receiver, everything the root of both', () => {
	expect(readingDeviation(3e-4, 4e-4, 0, 0)).toBe(3e-4);
	expect(readingDeviation(3e-4, 4e-4, 0.6, -0.8)).toBeCloseTo(5e-4, 16);
});
