import { expect, test } from 'vitest';
import { floorDeviation, traceDeviation } from '#lib/reflectometer/noise.ts';

test('ten times the bandwidth is √10 more floor noise, 20 dB more level a tenth of it', () => {
	const deviation = floorDeviation(-120, 100, -30);
	expect(floorDeviation(-120, 1000, -30) / deviation).toBeCloseTo(Math.sqrt(10), 12);
	expect(floorDeviation(-120, 100, -10) / deviation).toBeCloseTo(0.1, 12);
});

test('trace noise holds in its reference bandwidth and grows with the root of the bandwidth', () => {
	const traceNoise = { amplitude: 0.005, phase: 6e-4, bandwidth: 1000 };
	const reference = traceDeviation(traceNoise, 1000);
	expect(20 * Math.log10(1 + reference.amplitude)).toBeCloseTo(0.005, 12);
	expect(reference.phase).toBe(6e-4);
	const narrow = traceDeviation(traceNoise, 10);
	expect(narrow.amplitude / reference.amplitude).toBeCloseTo(0.1, 12);
	expect(narrow.phase / reference.phase).toBeCloseTo(0.1, 12);
});

test('no trace noise is none', () => {
	expect(traceDeviation({ amplitude: 0, phase: 0, bandwidth: 1 }, 1e6)).toEqual({ amplitude: 0, phase: 0 });
});
