import { expect, test } from 'vitest';
import { scaledBessel0, scaledBessel1 } from '#lib/numeric/bessel.ts';

// Abramowitz & Stegun, *Handbook of Mathematical Functions*, 1964, table 9.8, to its ten digits.
test.each([
	[0.5, 0.6450352704, 0.1564208032],
	[1, 0.4657596076, 0.2079104153],
	[2, 0.3085083226, 0.2152692892],
	[5, 0.1835408126, 0.1639722669],
	[10, 0.1278333372, 0.1212626814]
])('e^(−x)·I0 and e^(−x)·I1 at x = %d as in the table', (x, i0, i1) => {
	expect(Math.abs(scaledBessel0(x) - i0)).toBeLessThan(0.51e-10);
	expect(Math.abs(scaledBessel1(x) - i1)).toBeLessThan(0.51e-10);
});

// scipy.special.ive of SciPy 1.17.1: on both sides of the change from one series to the other, and far out.
test.each([
	[1e-3, 0.9990007495835156, 0.0004995003123542212],
	[20, 0.08978031188482599, 0.08750622218328864],
	[25, 0.08019677354743665, 0.07857611331929276],
	[30, 0.07314594648223727, 0.07191633059864756],
	[31, 0.07194649669698382, 0.07077639283438568],
	[700, 0.015081295651531358, 0.015070519444716846],
	[1e8, 3.989422809001106e-5, 3.9894227890539916e-5]
])('at x = %d to 1e-14 of another library', (x, i0, i1) => {
	expect(Math.abs(scaledBessel0(x) / i0 - 1)).toBeLessThan(1e-14);
	expect(Math.abs(scaledBessel1(x) / i1 - 1)).toBeLessThan(1e-14);
});

// The Wronskian I0·K1 + I1·K0 = 1/x needs K; the derivative (e^(−x)·I0)′ = e^(−x)·(I1 − I0) does not (9.6.27).
test('the slope of I0 is I1, also across the change of series', () => {
	for (const x of [0.3, 3, 12, 29.9995, 30, 30.0005, 80]) {
		const step = 1e-3;
		const slope = (scaledBessel0(x + step) - scaledBessel0(x - step)) / (2 * step);
		expect(Math.abs(slope - (scaledBessel1(x) - scaledBessel0(x)))).toBeLessThan(1e-6);
	}
});

test('the ends of the range', () => {
	expect(scaledBessel0(0)).toBe(1);
	expect(scaledBessel1(0)).toBe(0);
	expect(scaledBessel0(Infinity)).toBe(0);
	expect(scaledBessel1(-1)).toBeNaN();
	expect(scaledBessel0(NaN)).toBeNaN();
});
