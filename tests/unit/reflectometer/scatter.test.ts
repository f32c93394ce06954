import { expect, test } from 'vitest';
import { complex, polar } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { addScatter, covarianceOf, noScatter, readingScatter } from '#lib/reflectometer/scatter.ts';

const one = (value: Complex): ComplexArray => ({
	re: Float64Array.of(value.re),
	im: Float64Array.of(value.im)
});
const quiet = { floorDeviation: 0, amplitudeDeviation: 0, phaseDeviation: 0 };

test('floor noise alone is circular', () => {
	const scatter = readingScatter(one(complex(0.3, 0.4)), { ...quiet, floorDeviation: 0.01 }, 4);
	expect(covarianceOf(scatter, 0)).toEqual({ rr: 0.01 ** 2 / 4, ii: 0.01 ** 2 / 4, ri: 0 });
});

// By hand: a reading of size 2 at 90° has its amplitude along the imaginary axis, its phase along the real one.
test('amplitude noise lies along the reading and phase noise across it', () => {
	const noise = { floorDeviation: 0.1, amplitudeDeviation: 0.03, phaseDeviation: 0.02 };
	const { rr, ii, ri } = covarianceOf(readingScatter(one(complex(0, 2)), noise), 0);
	expect(rr).toBeCloseTo(0.1 ** 2 + 4 * 0.02 ** 2, 15);
	expect(ii).toBeCloseTo(0.1 ** 2 + 4 * 0.03 ** 2, 15);
	expect(ri).toBeCloseTo(0, 15);
});

test('a factor turns and scales the cloud, and independent clouds add', () => {
	const along = readingScatter(one(complex(1)), { ...quiet, amplitudeDeviation: 1 });
	const sum = noScatter(1);
	// a line along the real axis, turned by 45° and doubled: rr = ii = ri = 2
	addScatter(sum, along, one(polar(2, Math.PI / 4)));
	const turned = covarianceOf(sum, 0);
	for (const value of [turned.rr, turned.ii, turned.ri]) expect(value).toBeCloseTo(2, 14);
	// and one at right angles to it makes a circle
	addScatter(sum, along, one(polar(2, (3 * Math.PI) / 4)));
	const circle = covarianceOf(sum, 0);
	expect(circle.rr).toBeCloseTo(4, 14);
	expect(circle.ii).toBeCloseTo(4, 14);
	expect(circle.ri).toBeCloseTo(0, 14);
});
