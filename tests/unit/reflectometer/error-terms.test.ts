import { expect, test } from 'vitest';
import { at, magnitude, polar, subtract } from '#lib/numeric/complex.ts';
import { interpolateTerms, portErrorTerms } from '#lib/reflectometer/error-terms.ts';

const port = {
	directivity: { size: -20, delay: 0 },
	sourceMatch: { size: -40, delay: 0.25e-9 },
	tracking: { size: 0, delay: -1e-9 }
};
const steps = (start: number, stop: number, points: number) =>
	Float64Array.from({ length: points }, (_, i) => start + ((stop - start) * i) / (points - 1));

test('a term has the size set in dB and turns clockwise with its delay', () => {
	const terms = portErrorTerms(port, Float64Array.of(0, 1e9));
	expect(at(terms.directivity, 1).re).toBeCloseTo(0.1, 15);
	expect(at(terms.sourceMatch, 0).re).toBeCloseTo(0.01, 15);
	// a quarter of a period: −90°; a whole one, of negative delay: back where it began
	expect(at(terms.sourceMatch, 1).im).toBeCloseTo(-0.01, 15);
	expect(at(terms.tracking, 1).re).toBeCloseTo(1, 15);
});

test('the same frequencies give the same terms back', () => {
	const frequencies = steps(1e8, 2e8, 5);
	const terms = portErrorTerms(port, frequencies);
	const { terms: same, fit } = interpolateTerms(terms, frequencies, frequencies.slice());
	expect(fit).toBe('same');
	expect(same).toBe(terms);
});

test('within their frequencies terms are interpolated', () => {
	const from = steps(1e8, 2e8, 101);
	const to = steps(1.2e8, 1.9e8, 37);
	const { terms, fit } = interpolateTerms(portErrorTerms(port, from), from, to);
	const exact = portErrorTerms(port, to);
	expect(fit).toBe('interpolated');
	for (const name of ['directivity', 'sourceMatch', 'tracking'] as const) {
		for (let i = 0; i < to.length; i++) {
			expect(magnitude(subtract(at(terms[name], i), at(exact[name], i)))).toBeLessThan(1e-7);
		}
	}
});

test('beyond their frequencies the end of the terms is held, and the fit says so', () => {
	const from = steps(1e8, 2e8, 11);
	const known = portErrorTerms(port, from);
	const { terms, fit } = interpolateTerms(known, from, Float64Array.of(0.5e8, 1.5e8, 3e8));
	expect(fit).toBe('outside');
	expect(at(terms.tracking, 0)).toEqual(at(known.tracking, 0));
	expect(at(terms.tracking, 2)).toEqual(at(known.tracking, 10));
	const between = subtract(at(terms.tracking, 1), polar(1, 2 * Math.PI * 0.15));
	expect(magnitude(between)).toBeLessThan(1e-4);
});

test('terms of a single frequency hold everywhere', () => {
	const from = Float64Array.of(1e8);
	const known = portErrorTerms(port, from);
	const { terms, fit } = interpolateTerms(known, from, Float64Array.of(1e8, 2e8));
	expect(fit).toBe('outside');
	expect(at(terms.sourceMatch, 1)).toEqual(at(known.sourceMatch, 0));
});
