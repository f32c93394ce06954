import { expect, test } from 'vitest';
import { fillNormals, streamOf } from '#lib/numeric/random.ts';
import { CHI_SQUARED_95, ellipse, regionFactor } from '#lib/numeric/statistics.ts';

test('a circle, a lying, a standing and a tilted ellipse', () => {
	expect(ellipse({ rr: 4, ii: 4, ri: 0 }, 9)).toEqual({ semiMajor: 6, semiMinor: 6, angle: 0 });
	expect(ellipse({ rr: 4, ii: 1, ri: 0 }, 1)).toEqual({ semiMajor: 2, semiMinor: 1, angle: 0 });
	expect(ellipse({ rr: 1, ii: 4, ri: 0 }, 1).angle).toBeCloseTo(Math.PI / 2, 14);
	const tilted = ellipse({ rr: 2.5, ii: 2.5, ri: 1.5 }, 1);
	expect(tilted.semiMajor).toBeCloseTo(2, 14);
	expect(tilted.semiMinor).toBeCloseTo(1, 14);
	expect(tilted.angle).toBeCloseTo(Math.PI / 4, 14);
});

test('no spread and perfect correlation are flat, never NaN', () => {
	expect(ellipse({ rr: 0, ii: 0, ri: 0 }, CHI_SQUARED_95)).toEqual({ semiMajor: 0, semiMinor: 0, angle: 0 });
	expect(ellipse({ rr: 0.1, ii: 0.1, ri: 0.1 }, 1).semiMinor).toBeCloseTo(0, 7);
});

test.each([3, 5, 20])('the region from %d readings holds the true mean in 95 % of 20 000 trials', (n) => {
	// Binomial standard deviation √(0.95·0.05/20 000) = 0.00154; limit five of them, false alarm 6e-7 a case.
	const trials = 20_000;
	const out = [0, 1, 2, 3].map(() => new Float64Array(n));
	let held = 0;
	for (let trial = 0; trial < trials; trial++) {
		fillNormals(out[0], out[1], out[2], out[3], 0, n, trial, streamOf('region'), 5);
		const x = out[0];
		const y = out[1].map((value, i) => 0.6 * x[i] + 0.3 * value); // correlated, unequal variances
		const meanX = x.reduce((a, b) => a + b) / n;
		const meanY = y.reduce((a, b) => a + b) / n;
		const moment = (a: Float64Array, ma: number, b: Float64Array, mb: number): number =>
			a.reduce((sum, value, i) => sum + (value - ma) * (b[i] - mb), 0) / (n - 1) / n;
		const rr = moment(x, meanX, x, meanX);
		const ii = moment(y, meanY, y, meanY);
		const ri = moment(x, meanX, y, meanY);
		const square = (ii * meanX * meanX - 2 * ri * meanX * meanY + rr * meanY * meanY) / (rr * ii - ri * ri);
		if (square <= regionFactor(n)) held++;
	}
	expect(Math.abs(held / trials - 0.95)).toBeLessThan(5 * 0.00154);
});
