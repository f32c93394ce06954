import { expect, test } from 'vitest';
import { complex, complexArray } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { readingScatter } from '#lib/reflectometer/scatter.ts';
import type { Scatter } from '#lib/reflectometer/scatter.ts';
import { differenceScatter, verify } from '#lib/reflectometer/verification.ts';

const list = (...values: readonly Complex[]): ComplexArray => ({
	re: Float64Array.from(values, ({ re }) => re),
	im: Float64Array.from(values, ({ im }) => im)
});
/** Circular, of this deviation of one quadrature. */
const circular = (deviation: number, length = 1): Scatter => ({
	variance: new Float64Array(length).fill(2 * deviation ** 2),
	relation: complexArray(length)
});

// √5.9915 = 2.4477: the 95 % point of χ² with two degrees of freedom, any table.
test('the radius of a circular cloud is 2.448 deviations of one quadrature', () => {
	const { radius, difference } = verify(list(complex(0.2)), list(complex(0.21, -0.01)), circular(0.01));
	expect(radius[0]).toBeCloseTo(0.024477, 6);
	expect(difference.re[0]).toBeCloseTo(0.01, 15);
	expect(difference.im[0]).toBeCloseTo(-0.01, 15);
});

test.each([
	[0.0244, true],
	[0.0245, false]
])('a difference of %d lies on its side of the radius', (size, inside) => {
	for (const direction of [complex(size), complex(0, -size), complex(size * 0.6, size * 0.8)]) {
		const { within, agrees } = verify(list(complex(0)), list(direction), circular(0.01));
		expect([within[0], agrees]).toEqual([inside, inside]);
	}
});

test('an elongated region is judged along its own axes', () => {
	const scatter = readingScatter(list(complex(1)), {
		floorDeviation: 0.001,
		amplitudeDeviation: 0.02,
		phaseDeviation: 0
	});
	const verdict = (found: Complex) => verify(list(complex(0)), list(found), scatter);
	// half axes by hand: 2.4477·√(0.02² + 0.001²) = 0.049016, and 0.00245 across
	expect(verdict(complex(0)).radius[0]).toBeCloseTo(0.049016, 6);
	expect(verdict(complex(0.048)).agrees).toBe(true);
	expect(verdict(complex(0, 0.01)).agrees).toBe(false);
});

// Tables of χ²: 5 % of 10 degrees of freedom lie above 18.307, of 200 above 233.994; 90 % of 10 above 4.865.
test.each([
	[5, 18.307, 0.05],
	[5, 4.865, 0.9],
	[100, 233.994, 0.05]
])('over %d frequencies a sum of %d has the chance of the tables', (length, sum, chance) => {
	const each = complex(Math.sqrt(sum / length));
	const found = list(...new Array<Complex>(length).fill(each));
	expect(verify(complexArray(length), found, circular(1, length)).chance).toBeCloseTo(chance, 4);
});

test('a whole sweep of many points neither overflows nor underflows', () => {
	const length = 10001;
	const at = (size: number) =>
		verify(
			complexArray(length),
			list(...new Array<Complex>(length).fill(complex(size))),
			circular(1, length)
		);
	// the mean of χ² with 20002 degrees of freedom is their number: just under half lie above
	expect(at(Math.SQRT2).chance).toBeCloseTo(0.5, 2);
	expect(at(1.5).chance).toBeLessThan(1e-6);
	expect(at(1.3).chance).toBeGreaterThan(1 - 1e-6);
});

test('without any noise only rounding is forgiven', () => {
	const still = circular(0);
	expect(verify(list(complex(0.3)), list(complex(0.3)), still).chance).toBe(1);
	expect(verify(list(complex(0.3)), list(complex(0.3 + 2e-16)), still).agrees).toBe(true);
	expect(verify(list(complex(0.3)), list(complex(0.3001)), still).agrees).toBe(false);
});

test('what is not a number agrees with nothing', () => {
	const { within, agrees } = verify(list(complex(0)), list(complex(NaN)), circular(1));
	expect([within[0], agrees]).toEqual([false, false]);
});

// At a perfect port a standard of three measured again, by hand: σ² of its own calibration reading and σ² of the new one;
// a part of Γ = j gets (½ + ½ + 4)·σ² frozen and σ² of its own.
test('noise of the calibration and of the reading add', () => {
	const perfect: ErrorTerms = {
		directivity: complexArray(1),
		sourceMatch: complexArray(1),
		tracking: list(complex(1))
	};
	const standards = [complex(1), complex(-1), complex(0)].map((known) => ({
		known: list(known),
		scatter: circular(0.01)
	}));
	const predicted = (gamma: Complex, deviation: number): number =>
		differenceScatter(perfect, standards, list(gamma), circular(deviation)).variance[0] / 2e-4;
	expect(predicted(complex(-1), 0.01)).toBeCloseTo(2, 12);
	expect(predicted(complex(-1), 0.02)).toBeCloseTo(5, 12);
	expect(predicted(complex(0, 1), 0.01)).toBeCloseTo(6, 12);
});
