import { expect, test } from 'vitest';
import { allanCurve, allanDeviation, allanFreedom, allanVariance } from '#lib/numeric/allan.ts';
import { fillNormals, streamOf } from '#lib/numeric/random.ts';
import type { Reals } from '#lib/numeric/reals.ts';

function normals(name: string, count: number): Reals {
	const rows = [0, 1, 2, 3].map(() => new Float64Array(count));
	fillNormals(rows[0], rows[1], rows[2], rows[3], 0, count, 0, streamOf(name), 5);
	return rows[0];
}

/** The definition in so many words. */
function byDefinition(readings: Reals, m: number): number {
	const mean = (first: number) => readings.slice(first, first + m).reduce((sum, x) => sum + x, 0) / m;
	const squares = [];
	for (let j = 0; j + 2 * m <= readings.length; j++) squares.push((mean(j + m) - mean(j)) ** 2 / 2);
	return squares.reduce((sum, x) => sum + x, 0) / squares.length;
}

test.each([1, 2, 3, 10, 49, 50])(
	'the variance of means of %d readings is half their mean squared change',
	(m) => {
		const readings = normals('definition', 100);
		expect(allanVariance(readings, m) / byDefinition(readings, m)).toBeCloseTo(1, 11);
		expect(allanDeviation(readings, m)).toBe(Math.sqrt(allanVariance(readings, m)));
	}
);

test('what is constant does not count, even when it is large', () => {
	expect(allanDeviation(new Float64Array(64).fill(0.7), 4)).toBe(0);
	const readings = normals('constant', 5000);
	const raised = readings.map((reading) => reading + 1e6);
	for (const m of [1, 30, 2000]) {
		expect(allanDeviation(raised, m) / allanDeviation(readings, m)).toBeCloseTo(1, 7);
	}
});

test('complex readings: the variances of both quadratures add', () => {
	const [re, im] = [normals('re', 200), normals('im', 200)];
	expect(allanVariance({ re, im }, 7)).toBe(allanVariance(re, 7) + allanVariance(im, 7));
});

test('fewer than 2m readings give no estimate', () => {
	const readings = normals('few', 7);
	expect(allanDeviation(readings, 3)).toBeGreaterThan(0);
	expect(allanDeviation(readings, 4)).toBeNaN();
	expect(allanDeviation(new Float64Array(0), 1)).toBeNaN();
	expect(allanFreedom(7, 4)).toBeNaN();
});

test('a single pair has one degree of freedom, and so has each step of a walk', () => {
	for (const noise of ['white', 'walk'] as const) {
		for (const m of [1, 2, 17]) expect(allanFreedom(2 * m, m, noise)).toBe(1);
	}
	// neighbouring steps are independent
	expect(allanFreedom(500, 1, 'walk')).toBe(499);
});

test('the weights of a change, correlated one by one, give the same freedom', () => {
	const [count, m] = [70, 9];
	const pairs = count - 2 * m + 1;
	const white = Array.from({ length: 2 * m }, (_, i) => (i < m ? -1 : 1));
	const walk = Array.from({ length: 2 * m - 1 }, (_, i) => Math.min(i + 1, 2 * m - 1 - i));
	for (const [noise, weights] of [
		['white', white],
		['walk', walk]
	] as const) {
		const covariance = (k: number) => weights.reduce((sum, w, i) => sum + w * (weights[i + k] ?? 0), 0);
		let sum = 0;
		for (let a = 0; a < pairs; a++)
			for (let b = 0; b < pairs; b++) sum += (covariance(Math.abs(a - b)) / covariance(0)) ** 2;
		expect(allanFreedom(count, m, noise) / (pairs ** 2 / sum)).toBeCloseTo(1, 12);
	}
});

test('the curve: octaves up to half the readings, times in seconds, uncertainty by the freedom', () => {
	const readings = normals('curve', 100);
	const curve = allanCurve(readings, 0.25);
	expect(curve.map(({ time }) => time)).toEqual([0.25, 0.5, 1, 2, 4, 8]);
	curve.forEach(({ deviation, uncertainty }, i) => {
		expect(deviation).toBe(allanDeviation(readings, 2 ** i));
		expect(uncertainty / deviation).toBeCloseTo(1 / Math.sqrt(2 * allanFreedom(100, 2 ** i)), 12);
	});
	const twice = allanCurve({ re: readings, im: readings }, 1);
	expect(twice[0].uncertainty / twice[0].deviation).toBeCloseTo(1 / Math.sqrt(4 * allanFreedom(100, 1)), 12);
	expect(allanCurve(new Float64Array(1), 1)).toEqual([]);
});
