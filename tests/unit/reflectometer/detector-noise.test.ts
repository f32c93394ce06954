import { expect, test } from 'vitest';
import { streamOf } from '#lib/numeric/random.ts';
import { addNoise, restNoise } from '#lib/reflectometer/detector-noise.ts';

const noise = { seed: 7, stream: streamOf('scalar bridge'), deviation: 2e-6 };

function taken(points: number, sweep: number, start = 0): Float64Array {
	const volts = new Float64Array(points).fill(start);
	addNoise(volts, noise, sweep);
	return volts;
}

test('the noise of a point depends on seed, stream and sweep alone, and is added', () => {
	expect(taken(600, 3)).toEqual(taken(600, 3));
	expect(taken(600, 3).slice(0, 5)).toEqual(taken(5, 3));
	expect(taken(5, 3)).not.toEqual(taken(5, 4));
	expect(taken(5, 3, 1)[2] - 1).toBeCloseTo(taken(5, 3)[2], 15);
	const other = new Float64Array(5);
	addNoise(other, { ...noise, stream: streamOf('slotted line') }, 3);
	expect(other).not.toEqual(taken(5, 3));
});

// √(4kTRB): a resistance of 6 kΩ in 1 kHz at 290 K has 0.310 µV (Nyquist 1928, by hand).
test('noise at rest', () => {
	expect(restNoise(1e3)).toBeGreaterThan(0.29e-6);
	expect(restNoise(1e3)).toBeLessThan(0.32e-6);
	expect(restNoise(4e3)).toBeCloseTo(2 * restNoise(1e3), 15);
});
