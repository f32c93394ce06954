import type { Reals } from './reals.ts';

/**
 * Complex numbers in two forms. `Complex` is one immutable number, for code where clarity counts.
 * `ComplexArray` is a struct of arrays, for loops over frequency: one Float64Array a quantity,
 * a point per element.
 */
export interface Complex {
	readonly re: number;
	readonly im: number;
}

export interface ComplexArray {
	readonly re: Reals;
	readonly im: Reals;
}

export const complex = (re: number, im = 0): Complex => ({ re, im });
export const ZERO: Complex = complex(0);
export const ONE: Complex = complex(1);

/** magnitude · e^{j·angle}; angle in radians. */
export const polar = (magnitude: number, angle: number): Complex =>
	complex(magnitude * Math.cos(angle), magnitude * Math.sin(angle));

export const add = (a: Complex, b: Complex): Complex => complex(a.re + b.re, a.im + b.im);
export const subtract = (a: Complex, b: Complex): Complex => complex(a.re - b.re, a.im - b.im);
export const negate = (a: Complex): Complex => complex(-a.re, -a.im);
export const conjugate = (a: Complex): Complex => complex(a.re, -a.im);
export const scale = (a: Complex, factor: number): Complex => complex(a.re * factor, a.im * factor);
export const multiply = (a: Complex, b: Complex): Complex =>
	complex(a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re);

/** a / b. Division by exact zero gives infinities or NaN, as it does for real numbers. */
export function divide(a: Complex, b: Complex): Complex {
	const d = b.re * b.re + b.im * b.im;
	return complex((a.re * b.re + a.im * b.im) / d, (a.im * b.re - a.re * b.im) / d);
}

export const magnitude = (a: Complex): number => Math.hypot(a.re, a.im);

/** Angle in radians, −π to π. */
export const argument = (a: Complex): number => Math.atan2(a.im, a.re);

/** The principal square root (real part not negative). */
export function squareRoot(a: Complex): Complex {
	const m = magnitude(a);
	const re = Math.sqrt((m + Math.abs(a.re)) / 2);
	const im = re === 0 ? 0 : Math.abs(a.im) / (2 * re);
	return a.re >= 0 ? complex(re, a.im < 0 ? -im : im) : complex(im, a.im < 0 ? -re : re);
}

/** e^a. */
export const exponential = (a: Complex): Complex => polar(Math.exp(a.re), a.im);

/** `length` zeros. */
export const complexArray = (length: number): ComplexArray => ({
	re: new Float64Array(length),
	im: new Float64Array(length)
});

export const at = (array: ComplexArray, i: number): Complex => complex(array.re[i], array.im[i]);

export function put(array: ComplexArray, i: number, value: Complex): void {
	array.re[i] = value.re;
	array.im[i] = value.im;
}
