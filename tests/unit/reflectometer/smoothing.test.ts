import { expect, test } from 'vitest';
import { at, complex, complexArray, divide, magnitude, ONE, put, subtract } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import {
	smooth,
	smoothingCorrelation,
	smoothingHalf,
	smoothingWindow
} from '#lib/reflectometer/smoothing.ts';

const filled = (points: number, value: (i: number) => Complex): ComplexArray => {
	const out = complexArray(points);
	for (let i = 0; i < points; i++) put(out, i, value(i));
	return out;
};

test('a percentage of the span as an odd number of points', () => {
	const windowOf = (percent: number, points: number): number => 2 * smoothingHalf(percent, points) + 1;
	expect([0, 0.4, 0.6, 1, 5, 20, 100].map((percent) => windowOf(percent, 201))).toEqual([
		...[1, 1, 3, 3, 11, 41, 201]
	]);
	expect(windowOf(100, 200)).toBe(199);
	expect(windowOf(50, 1)).toBe(1);
	expect(windowOf(50, 2)).toBe(1);
});

test('the window shortens on both sides alike toward the ends', () => {
	expect(Array.from({ length: 9 }, (_, i) => smoothingWindow(i, 9, 3))).toEqual([1, 3, 5, 7, 7, 7, 5, 3, 1]);
	expect(Array.from({ length: 4 }, (_, i) => smoothingWindow(i, 4, 9))).toEqual([1, 3, 3, 1]);
});

test('every point is the mean of its window', () => {
	for (const [points, half] of [
		[60, 4],
		[60, 29],
		[7, 100],
		[1, 3],
		[5, 0]
	]) {
		const data = filled(points, (i) => complex(Math.sin(1.7 * i * i), Math.cos(2.3 * i)));
		const out = smooth(data, half);
		for (let i = 0; i < points; i++) {
			const reach = (smoothingWindow(i, points, half) - 1) / 2;
			const window = [data.re, data.im].map((part) => part.slice(i - reach, i + reach + 1));
			const [re, im] = window.map((part) => part.reduce((sum, value) => sum + value, 0) / part.length);
			expect(magnitude(subtract(at(out, i), complex(re, im)))).toBeLessThan(1e-14);
		}
	}
});

test('constant data and straight lines stay as they are, ends included', () => {
	const constant = smooth(
		filled(501, () => complex(0.3, -0.7)),
		40
	);
	const line = smooth(
		filled(501, (i) => complex(0.01 * i, 1 - 0.02 * i)),
		40
	);
	for (let i = 0; i < 501; i++) {
		expect(magnitude(subtract(at(constant, i), complex(0.3, -0.7)))).toBeLessThan(1e-14);
		expect(magnitude(subtract(at(line, i), complex(0.01 * i, 1 - 0.02 * i)))).toBeLessThan(1e-12);
	}
});

test('a point that is no number spoils its neighbours within the window and no others', () => {
	const data = filled(30, (i) => complex(i === 12 ? NaN : 1, i === 20 ? Infinity : 0));
	const out = smooth(data, 2);
	const lost = Array.from(out.re, (value, i) => (Number.isNaN(value) ? i : -1)).filter((i) => i >= 0);
	expect(lost).toEqual([10, 11, 12, 13, 14, 18, 19, 20, 21, 22]);
	expect(out.re[29]).toBe(1);
});

test('the correlation of neighbours is the shared part of their windows', () => {
	expect(smoothingCorrelation(50, 50, 101, 5)).toBe(1);
	expect(smoothingCorrelation(50, 51, 101, 5)).toBeCloseTo(10 / 11, 14);
	expect(smoothingCorrelation(54, 50, 101, 5)).toBeCloseTo(7 / 11, 14);
	expect(smoothingCorrelation(50, 61, 101, 5)).toBe(0);
	// a window of one point within one of three
	expect(smoothingCorrelation(0, 1, 101, 5)).toBeCloseTo(1 / Math.sqrt(3), 14);
	expect(smoothingCorrelation(0, 2, 101, 5)).toBeCloseTo(1 / Math.sqrt(5), 14);
	expect(smoothingCorrelation(0, 99, 101, 5)).toBe(0);
});

/** The mean of 1/(1 + ju) over x − w … x + w: its antiderivative is −j·ln(1 + ju). */
function meanResonance(x: number, w: number): Complex {
	const [low, high] = [x - w, x + w];
	const angle = Math.atan(high) - Math.atan(low);
	const logarithm = Math.log((1 + high * high) / (1 + low * low)) / 2;
	return complex(angle / (2 * w), -logarithm / (2 * w));
}

// Closed form: the mean of 1/(1 + jx) over an interval (see above); x = 2Q·(f − f0)/f0 next to a resonance. The sum over
// M points of spacing h stands for an interval of M·h with an error of (h²/24) times a slope.
test.each([0.1, 0.5, 1, 3])('a resonance under a window of ±%d half bandwidths is convolved', (w) => {
	const points = 4001;
	const h = 16 / (points - 1);
	const half = Math.round(w / h - 0.5);
	const data = filled(points, (i) => divide(ONE, complex(1, h * i - 8)));
	const out = smooth(data, half);
	for (let i = half; i < points - half; i++) {
		const expected = meanResonance(h * i - 8, ((2 * half + 1) * h) / 2);
		expect(magnitude(subtract(at(out, i), expected))).toBeLessThan(2e-6);
	}
	const peak = at(out, (points - 1) / 2);
	const exact = ((2 * half + 1) * h) / 2;
	expect(peak.re).toBeCloseTo(Math.atan(exact) / exact, 5);
});

// The same for a series circuit in front of 50 Ω: Γ = 1 − 2·(R + 50 Ω)⁻¹·50 Ω/(1 + jx), x = Q(f/f0 − f0/f). At Q = 2000
// the curvature of x over the span moves it by less than 1e-3 (relative to the depth of the resonance).
test('a circuit of loaded Q 2000 at 169.5 MHz is bent as the formula says', () => {
	const [f0, q, resistance] = [169.5e6, 2000, 12];
	const depth = 100 / (resistance + 50);
	const points = 2001;
	const span = 8 * (f0 / q);
	const frequency = (i: number): number => f0 + span * (i / (points - 1) - 0.5);
	const data = filled(points, (i) => {
		const x = q * (frequency(i) / f0 - f0 / frequency(i));
		return subtract(ONE, divide(complex(depth), complex(1, x)));
	});
	const half = smoothingHalf(25, points);
	const w = (((2 * half + 1) * span) / (points - 1) / f0) * q;
	const out = smooth(data, half);
	for (let i = half; i < points - half; i += 25) {
		const mean = meanResonance((2 * q * (frequency(i) - f0)) / f0, w);
		const expected = subtract(ONE, complex(depth * mean.re, depth * mean.im));
		expect(magnitude(subtract(at(out, i), expected))).toBeLessThan(1e-3 * depth);
	}
	// what a beginner sees: the dip has lost almost half its depth, with no noise at all
	const middle = (points - 1) / 2;
	expect(1 - data.re[middle]).toBeCloseTo(depth, 12);
	expect((1 - out.re[middle]) / depth).toBeCloseTo(Math.atan(w) / w, 3);
	expect(w).toBeCloseTo(2, 2);
});
