import { expect, test } from 'vitest';
import { at, complex, magnitude, ONE, ZERO } from '#lib/numeric/complex.ts';
import { randomWalk } from '#lib/numeric/random-walk.ts';
import { streamOf } from '#lib/numeric/random.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import {
	driftAt,
	driftedTerms,
	driftSensitivity,
	TermDrift,
	walkDeviation,
	warmUpChange
} from '#lib/reflectometer/drift.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';

const SIZE = { warmUp: 0.02, timeConstant: 1200, walk: 1e-3 };
const STILL = { warmUp: 0, timeConstant: 1, walk: 0 };
const TIMES = [7200, 0, 0.2, 86_400, 0.1, 3e9];

test('a drift is the same alone and in any order, and that of its seed and name', () => {
	const drift = new TermDrift(SIZE, 9, 'directivity', -60);
	for (const time of [...TIMES, ...TIMES.toReversed()]) {
		drift.moveTo(time);
		expect(complex(drift.re, drift.im)).toEqual(driftAt(SIZE, 9, 'directivity', time, -60));
	}
	expect(driftAt(SIZE, 10, 'directivity', 50)).not.toEqual(driftAt(SIZE, 9, 'directivity', 50));
	expect(driftAt(SIZE, 9, 'tracking', 50)).not.toEqual(driftAt(SIZE, 9, 'directivity', 50));
});

test('without size nothing drifts', () => {
	for (const time of TIMES) expect(magnitude(driftAt(STILL, 1, 'tracking', time))).toBe(0);
});

test('the warm-up begins at its size, keeps its direction and is down to 1/e after the time constant', () => {
	const size = { ...SIZE, walk: 0 };
	const begin = driftAt(size, 3, 'source match', 100, 100);
	expect(magnitude(begin)).toBeCloseTo(0.02, 14);
	for (const [waited, left] of [
		[600, Math.exp(-0.5)],
		[1200, 1 / Math.E],
		[12_000, Math.exp(-10)]
	]) {
		const later = driftAt(size, 3, 'source match', 100 + waited, 100);
		expect(later.re / begin.re).toBeCloseTo(left, 13);
		expect(later.im / begin.im).toBeCloseTo(left, 13);
		expect(warmUpChange(size, 100, 100 + waited, 100)).toBeCloseTo(0.02 * (1 - left), 14);
	}
	// off before power-on
	expect(driftAt(size, 3, 'source match', 40, 100)).toEqual(begin);
	// on for an hour when the bench is begun
	expect(magnitude(driftAt(size, 3, 'source match', 0, -3600))).toBeCloseTo(0.02 * Math.exp(-3), 14);
});

test('the walk is that of its name, its size stated for an hour', () => {
	const size = { ...SIZE, warmUp: 0 };
	const walk = randomWalk(3, streamOf('tracking walk'), 500);
	expect(driftAt(size, 3, 'tracking', 500).re).toBeCloseTo((1e-3 * walk) / 60, 16);
	expect(walkDeviation(SIZE, 100, 3700)).toBeCloseTo(1e-3, 15);
	expect(walkDeviation(SIZE, 3700, 100)).toBeCloseTo(1e-3, 15);
	expect(walkDeviation(SIZE, 0, 4 * 3600)).toBeCloseTo(2e-3, 15);
});

test('bench times that cannot be give NaN', () => {
	expect(driftAt(SIZE, 3, 'tracking', -1).re).toBeNaN();
	expect(driftAt(SIZE, 3, 'tracking', NaN).im).toBeNaN();
});

const frequencies = [1e6, 1e8, 1e9];
const terms = portErrorTerms(
	{
		directivity: { size: -30, delay: 2e-10 },
		sourceMatch: { size: -20, delay: 5e-10 },
		tracking: { size: -1, delay: 1e-9 }
	},
	frequencies
);
const gamma = { re: Float64Array.of(0.5, -0.3, 0.8), im: Float64Array.of(0.1, 0.6, -0.5) };

test('terms without drift stay, and can be written over', () => {
	const none = { directivity: ZERO, sourceMatch: ZERO, tracking: ZERO };
	expect(driftedTerms(terms, none)).toEqual(terms);
	const drift = { directivity: complex(0.1), sourceMatch: complex(0, 0.1), tracking: complex(-0.1) };
	const moved = driftedTerms(terms, drift);
	const copy = structuredClone(terms);
	expect(driftedTerms(copy, drift, copy)).toBe(copy);
	expect(copy).toEqual(moved);
	expect(at(moved.directivity, 1).re).toBe(terms.directivity.re[1] + 0.1);
	expect(at(moved.sourceMatch, 1).im).toBe(terms.sourceMatch.im[1] + 0.1);
	expect(at(moved.tracking, 1).im).toBeCloseTo(terms.tracking.im[1] * 0.9, 15);
});

test.each(['directivity', 'sourceMatch', 'tracking'] as const)(
	'a small drift of the %s moves a corrected reflection as foretold',
	(name) => {
		// the model itself: read with moved terms, correct with the old ones; second order is 1e-7 of it
		const small = 1e-7;
		const drift = { directivity: ZERO, sourceMatch: ZERO, tracking: ZERO, [name]: complex(0, small) };
		const shown = gammaFromRaw(terms, rawFromGamma(driftedTerms(terms, drift), gamma));
		const foretold = driftSensitivity(terms, gamma)[name];
		for (let i = 0; i < frequencies.length; i++) {
			expect((shown.re[i] - gamma.re[i]) / small).toBeCloseTo(-foretold.im[i], 5);
			expect((shown.im[i] - gamma.im[i]) / small).toBeCloseTo(foretold.re[i], 5);
		}
	}
);

test('behind a pad of 15 dB: directivity drift × 31.6, tracking drift the same, match drift ÷ 31.6', () => {
	// A matched pad makes the terms seen from its far end e00, e11·p² and e10e01·p², p² = 10^(−2A/20), so the corrected
	// reflection moves as computed here with drifts in front of it and terms calibrated behind it.
	const through = 10 ** (-2 * 15 * 0.05);
	const port = { directivity: complex(0.01), sourceMatch: complex(0.02), tracking: ONE };
	const drift = { directivity: complex(1e-6), sourceMatch: complex(1e-6), tracking: complex(1e-6) };
	const one = (value: { re: number; im: number }) => ({
		re: Float64Array.of(value.re),
		im: Float64Array.of(value.im)
	});
	const device = one(complex(0.6));
	const movedBy = (name: 'directivity' | 'sourceMatch' | 'tracking', p2: number): number => {
		const plain = {
			directivity: one(port.directivity),
			sourceMatch: one(port.sourceMatch),
			tracking: one(port.tracking)
		};
		const none = { directivity: ZERO, sourceMatch: ZERO, tracking: ZERO };
		const behind = { re: device.re.map((re) => re * p2), im: device.im.map((im) => im * p2) };
		const raw = rawFromGamma(driftedTerms(plain, { ...none, [name]: drift[name] }), behind);
		const calibrated = {
			directivity: plain.directivity,
			sourceMatch: one(complex(0.02 * p2)),
			tracking: one(complex(p2))
		};
		return gammaFromRaw(calibrated, raw).re[0] - device.re[0];
	};
	const ratio = (name: 'directivity' | 'sourceMatch' | 'tracking') =>
		movedBy(name, through) / movedBy(name, 1);
	// what is left of 1 − e11·Γ, near 1, differs a little
	expect(ratio('directivity') * through).toBeCloseTo(1 / (1 - 0.02 * 0.6) ** 2, 2);
	expect(ratio('tracking')).toBeCloseTo(1 / (1 - 0.02 * 0.6), 2);
	expect(ratio('sourceMatch') / through).toBeCloseTo(1, 4);
});
