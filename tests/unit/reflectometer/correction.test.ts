import { expect, test } from 'vitest';
import { at, complexArray } from '#lib/numeric/complex.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';

// Worked by hand: e00 = 0.1, e11 = 0.5, e10e01 = 0.6; Γ = 1 reads 0.1 + 0.6/0.5 = 1.3, Γ = −1 reads 0.1 − 0.6/1.5 = −0.3.
const constant = (re: number) => ({ re: new Float64Array(3).fill(re), im: new Float64Array(3) });
const terms = { directivity: constant(0.1), sourceMatch: constant(0.5), tracking: constant(0.6) };
const gamma = { re: Float64Array.of(1, -1, 0), im: new Float64Array(3) };

test('raw readings of an open, a short and a match', () => {
	const { re, im } = rawFromGamma(terms, gamma);
	[1.3, -0.3, 0.1].forEach((value, i) => expect(re[i]).toBeCloseTo(value, 15));
	expect(Array.from(im, Math.abs)).toEqual([0, 0, 0]);
});

test('correction goes back, in place if asked', () => {
	const both = rawFromGamma(terms, gamma, complexArray(3));
	expect(gammaFromRaw(terms, both, both)).toBe(both);
	[1, -1, 0].forEach((value, i) => expect(at(both, i).re).toBeCloseTo(value, 15));
	const inPlace = { re: gamma.re.slice(), im: gamma.im.slice() };
	expect(rawFromGamma(terms, inPlace, inPlace).re).toEqual(rawFromGamma(terms, gamma).re);
});
