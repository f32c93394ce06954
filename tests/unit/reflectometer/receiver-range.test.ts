import { expect, test } from 'vitest';
import { at, complex, complexArray, magnitude, multiply, put, subtract } from '#lib/numeric/complex.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { rawChangeError } from '#lib/reflectometer/leakage.ts';
import { rangeAt, rangesOf, throughRanges } from '#lib/reflectometer/receiver-range.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';

const ranges = [
	{ highest: -60, factor: complex(0.998, 0.003) },
	{ highest: -30, factor: complex(1.001, -0.002) },
	{ highest: 0, factor: complex(1) }
];

test('a level on a limit belongs below it, and the last range takes the rest', () => {
	expect([-Infinity, -90, -60, -59.999, -30, -29, 0, 12].map((level) => rangeAt(level, ranges))).toEqual([
		...[0, 0, 0, 1, 1, 2, 2, 2]
	]);
	expect(rangeAt(50, ranges.slice(0, 1))).toBe(0);
});

test('the range follows from the level of the source and the size of the reading', () => {
	const raw = { re: Float64Array.of(0, 0.1, 0.1, 0.1), im: Float64Array.of(0, 0, 0, 0.2) };
	// nothing comes back of the first; the next two are 20 dB, the last 13.0 dB below the source
	expect([...rangesOf(raw, [10, -45, -15, -20], ranges)]).toEqual([0, 0, 1, 1]);
	expect([...rangesOf(raw, [10, -35, -5, -16], ranges)]).toEqual([0, 1, 2, 2]);
});

test('every reading is turned by the factor of its range, in place too', () => {
	const raw = { re: Float64Array.of(0.3, 0.3), im: Float64Array.of(-0.4, -0.4) };
	const out = throughRanges(raw, [2, 0], ranges);
	expect(at(out, 0)).toEqual(at(raw, 0));
	expect(at(out, 1)).toEqual(multiply(at(raw, 1), ranges[0].factor));
	expect(throughRanges(raw, [2, 0], ranges, raw)).toBe(raw);
	expect(raw).toEqual(out);
});

// Closed form: a reading of f·m instead of m is off by (f − 1)·m before the correction.
test('a calibration in one range is exact there and off in another', () => {
	const frequencies = [169.5e6];
	const terms = portErrorTerms(
		{
			directivity: { size: -20, delay: 0.4e-9 },
			sourceMatch: { size: -14, delay: 0.7e-9 },
			tracking: { size: -6, delay: 1.1e-9 }
		},
		frequencies
	);
	const ideal = {
		open: { capacitance: 0 },
		short: { inductance: 0 },
		load: { resistance: 50, inductance: 0 }
	};
	const [open, short, load] = (['open', 'short', 'load'] as const).map((name) => {
		const known = standardGamma(name, ideal, frequencies);
		return { known, raw: throughRanges(rawFromGamma(terms, known), [1], ranges) };
	});
	const solved = solveThreeTerms([open, short, load], frequencies);
	const gamma = complexArray(1);
	put(gamma, 0, complex(0.5, 0.4));
	const raw = rawFromGamma(terms, gamma);
	const read = (range: number) => gammaFromRaw(solved, throughRanges(raw, [range], ranges));
	expect(magnitude(subtract(at(read(1), 0), at(gamma, 0)))).toBeLessThan(1e-14);

	const change = complexArray(1);
	const other = throughRanges(raw, [0], ranges);
	put(change, 0, subtract(at(other, 0), at(throughRanges(raw, [1], ranges), 0)));
	const error = subtract(at(read(0), 0), at(gamma, 0));
	const stated = at(rawChangeError(solved, gamma, change), 0);
	expect(magnitude(subtract(error, stated))).toBeLessThan(1e-14);
	expect(magnitude(error)).toBeGreaterThan(0.002);
});
