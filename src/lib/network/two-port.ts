import { complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';

/**
 * A two-port over n frequencies as a struct of arrays; 50 Ω at both ports. Port 1 faces the instrument, port 2 the
 * device. Which frequencies these are is known to whoever made it.
 */
export interface TwoPort {
	readonly s11: ComplexArray;
	readonly s12: ComplexArray;
	readonly s21: ComplexArray;
	readonly s22: ComplexArray;
}

/** A two-port of zeros over `length` frequencies: matched, and letting nothing through. */
export const twoPort = (length: number): TwoPort => ({
	s11: complexArray(length),
	s12: complexArray(length),
	s21: complexArray(length),
	s22: complexArray(length)
});

/** A through of no length over `length` frequencies. */
export function identity(length: number): TwoPort {
	const through = twoPort(length);
	through.s12.re.fill(1);
	through.s21.re.fill(1);
	return through;
}

/**
 * `a` followed by `b` (Redheffer's star product, 1960), written to `out`, which may be `a` or `b`.
 * It needs no inverse of S21, so an open, a short or a pad of infinite loss is as good as any part. Where
 * S22a·S11b = 1 exactly, passive parts let nothing reach the junction (|S22| = 1 leaves nothing for S21), and the
 * junction's share is left out; parts with gain oscillate there and give Infinity or NaN.
 */
export function cascade(a: TwoPort, b: TwoPort, out: TwoPort = twoPort(a.s11.re.length)): TwoPort {
	const { s11: a11, s12: a12, s21: a21, s22: a22 } = a;
	const { s11: b11, s12: b12, s21: b21, s22: b22 } = b;
	for (let i = 0; i < a11.re.length; i++) {
		const a12r = a12.re[i];
		const a12i = a12.im[i];
		const a21r = a21.re[i];
		const a21i = a21.im[i];
		const a22r = a22.re[i];
		const a22i = a22.im[i];
		const b11r = b11.re[i];
		const b11i = b11.im[i];
		const b12r = b12.re[i];
		const b12i = b12.im[i];
		const b21r = b21.re[i];
		const b21i = b21.im[i];
		// inverse = 1 / (1 − S22a·S11b): every round trip at the junction
		const dr = 1 - (a22r * b11r - a22i * b11i);
		const di = -(a22r * b11i + a22i * b11r);
		const square = dr * dr + di * di;
		const parted = square === 0 && !(a12r || a12i || a21r || a21i || b12r || b12i || b21r || b21i);
		const inverseRe = parted ? 0 : dr / square;
		const inverseIm = parted ? 0 : -di / square;
		// forward = S21a·inverse, backward = S12b·inverse
		const fr = a21r * inverseRe - a21i * inverseIm;
		const fi = a21r * inverseIm + a21i * inverseRe;
		const kr = b12r * inverseRe - b12i * inverseIm;
		const ki = b12r * inverseIm + b12i * inverseRe;
		// S11 = S11a + S12a·S11b·forward
		const ur = a12r * b11r - a12i * b11i;
		const ui = a12r * b11i + a12i * b11r;
		const s11r = a11.re[i] + (ur * fr - ui * fi);
		const s11i = a11.im[i] + (ur * fi + ui * fr);
		// S22 = S22b + S21b·S22a·backward
		const vr = b21r * a22r - b21i * a22i;
		const vi = b21r * a22i + b21i * a22r;
		const s22r = b22.re[i] + (vr * kr - vi * ki);
		const s22i = b22.im[i] + (vr * ki + vi * kr);
		out.s11.re[i] = s11r;
		out.s11.im[i] = s11i;
		out.s22.re[i] = s22r;
		out.s22.im[i] = s22i;
		out.s21.re[i] = b21r * fr - b21i * fi;
		out.s21.im[i] = b21r * fi + b21i * fr;
		out.s12.re[i] = a12r * kr - a12i * ki;
		out.s12.im[i] = a12r * ki + a12i * kr;
	}
	return out;
}

/**
 * Reflection seen at port 1 with `end` at port 2: S11 + S12·S21·Γ/(1 − S22·Γ) (Pozar, *Microwave Engineering*, 4th ed.,
 * 2012, eq. 12.3a), written to `out`, which may be `end`. Where nothing passes both ways the answer is S11 itself.
 */
export function looking(
	part: TwoPort,
	end: ComplexArray,
	out: ComplexArray = complexArray(end.re.length)
): ComplexArray {
	const { s11, s12, s21, s22 } = part;
	for (let i = 0; i < s11.re.length; i++) {
		const gr = end.re[i];
		const gi = end.im[i];
		const pr = s12.re[i] * s21.re[i] - s12.im[i] * s21.im[i];
		const pi = s12.re[i] * s21.im[i] + s12.im[i] * s21.re[i];
		if (pr === 0 && pi === 0) {
			out.re[i] = s11.re[i];
			out.im[i] = s11.im[i];
			continue;
		}
		const dr = 1 - (s22.re[i] * gr - s22.im[i] * gi);
		const di = -(s22.re[i] * gi + s22.im[i] * gr);
		const square = dr * dr + di * di;
		const nr = pr * gr - pi * gi;
		const ni = pr * gi + pi * gr;
		out.re[i] = s11.re[i] + (nr * dr + ni * di) / square;
		out.im[i] = s11.im[i] + (ni * dr - nr * di) / square;
	}
	return out;
}

/** Parts in a row from the instrument on, as one two-port over `length` frequencies; none gives a through. */
export function chainOf(parts: readonly TwoPort[], length: number): TwoPort {
	const whole = identity(length);
	for (const part of parts) cascade(whole, part, whole);
	return whole;
}
