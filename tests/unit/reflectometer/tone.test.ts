import { expect, test } from 'vitest';
import { tonesOf, totalPower } from '#lib/reflectometer/tone.ts';

test('a fundamental and its harmonics, each with its frequency and power', () => {
	expect(tonesOf(1e8, 0, []).map(({ frequency }) => frequency)).toEqual([1e8]);
	const tones = tonesOf(1e8, 10, [-20, null, -30]);
	expect(tones.map(({ frequency }) => frequency)).toEqual([1e8, 2e8, 3e8, 4e8]);
	[1e-2, 1e-4, 0, 1e-5].forEach((watts, k) => expect(tones[k].watts).toBeCloseTo(watts, 15));
	expect(totalPower(tones)).toBeCloseTo(0.01011, 15);
	expect(totalPower([])).toBe(0);
});
