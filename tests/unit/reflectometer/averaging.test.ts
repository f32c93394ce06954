import { expect, test } from 'vitest';
import {
	effectiveAverages,
	effectiveNumber,
	keptFraction,
	nextWeight,
	NO_WEIGHT
} from '#lib/reflectometer/averaging.ts';

test('the first N sweeps count alike, later ones fade what was before', () => {
	expect([0, 1, 3].map((taken) => keptFraction(taken, 4))).toEqual([1, 1, 1]);
	expect([4, 5, 1000].map((taken) => keptFraction(taken, 4))).toEqual([0.75, 0.75, 0.75]);
	expect(keptFraction(0, 1)).toBe(1);
	expect(keptFraction(1, 1)).toBe(0);
});

test.each([1, 2, 3, 7, 10, 64, 1000])(
	'the weights of N = %d, sweep by sweep and in closed form',
	(averages) => {
		let weight = NO_WEIGHT;
		const weights: number[] = [];
		expect(effectiveAverages(0, averages)).toBe(0);
		for (let taken = 0; taken < 3 * averages + 5; taken++) {
			for (let i = 0; i < weights.length; i++) weights[i] *= keptFraction(taken, averages);
			weights.push(1);
			weight = nextWeight(weight, averages);
			expect(weight.sum).toBeCloseTo(Math.min(taken + 1, averages), 9);
			expect(effectiveNumber(weight)).toBeCloseTo(effectiveAverages(taken + 1, averages), 8);
		}
		const sum = weights.reduce((total, w) => total + w, 0);
		const squares = weights.reduce((total, w) => total + w * w, 0);
		expect(weight.sum / sum).toBeCloseTo(1, 10);
		expect(weight.squares / squares).toBeCloseTo(1, 10);
	}
);

test('the effective number rises from N to 2N − 1 and never falls', () => {
	let before = 0;
	for (let taken = 1; taken < 400; taken++) {
		const now = effectiveAverages(taken, 16);
		expect(now).toBeGreaterThanOrEqual(before);
		before = now;
	}
	expect(before).toBeCloseTo(31, 6);
});
