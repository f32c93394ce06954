import { expect, test } from 'vitest';
import fc from 'fast-check';
import {
	argument,
	complex,
	divide,
	exponential,
	magnitude,
	multiply,
	polar,
	squareRoot
} from '#lib/numeric/complex.ts';

const part = fc.double({ min: -1e3, max: 1e3, noNaN: true });
const number = fc.tuple(part, part).map(([re, im]) => complex(re, im));

test('a quotient times its divisor is the number again', () => {
	const property = fc.property(number, number, (a, b) => {
		fc.pre(magnitude(b) > 1e-6);
		const back = multiply(divide(a, b), b);
		expect(Math.hypot(back.re - a.re, back.im - a.im)).toBeLessThan(1e-12 * (1 + magnitude(a)));
	});
	fc.assert(property, { seed: 1 });
});

test('the square of the principal root is the number, its real part never negative', () => {
	const property = fc.property(number, (a) => {
		const root = squareRoot(a);
		const square = multiply(root, root);
		expect(root.re).toBeGreaterThanOrEqual(0);
		expect(Math.hypot(square.re - a.re, square.im - a.im)).toBeLessThan(1e-12 * (1 + magnitude(a)));
	});
	fc.assert(property, { seed: 2 });
	expect(squareRoot(complex(-4))).toEqual(complex(0, 2));
	expect(squareRoot(complex(0))).toEqual(complex(0, 0));
});

test('polar form, argument and exponential agree', () => {
	const turned = polar(2, 2.5);
	expect(magnitude(turned)).toBeCloseTo(2, 14);
	expect(argument(turned)).toBeCloseTo(2.5, 14);
	expect(exponential(complex(Math.log(2), 2.5)).re).toBeCloseTo(turned.re, 14);
});
