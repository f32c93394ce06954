import { expect, test } from 'vitest';
import { at, magnitude, subtract } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { gammaFromRaw } from '#lib/reflectometer/correction.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';
import type { StandardName } from '#lib/reflectometer/standards.ts';
import bridge from './data/bridge/bridge.json';

// Independent circuit simulator, provenance beside the data.

const TOLERANCE = 1e-9;
const standards: readonly StandardName[] = ['open', 'short', 'load'];
const devices = ['thru_50', 'series_rl', 'shunt_rc', 'resonator'] as const;
const frequencies = Float64Array.from(bridge.frequencies_hz);
const definitions = {
	open: { capacitance: bridge.standards.open_c },
	short: { inductance: bridge.standards.short_l },
	load: { resistance: bridge.standards.load_r, inductance: bridge.standards.load_l }
};

const fromPairs = (pairs: readonly number[][]): ComplexArray => ({
	re: Float64Array.from(pairs, ([re]) => re),
	im: Float64Array.from(pairs, ([, im]) => im)
});
const largestDifference = (a: ComplexArray, b: ComplexArray): number =>
	Math.max(...Array.from(a.re, (_, i) => magnitude(subtract(at(a, i), at(b, i)))));

test.each(standards)('the reflection of the %s is that of the simulated circuit', (name) => {
	const gamma = standardGamma(name, definitions, frequencies);
	expect(largestDifference(gamma, fromPairs(bridge.gamma_true[name]))).toBeLessThan(TOLERANCE);
});

test.each(devices)('calibrated with three standards, the bridge reads the true %s', (name) => {
	const [open, short, load] = standards.map((standard) => ({
		known: standardGamma(standard, definitions, frequencies),
		raw: fromPairs(bridge.raw[standard])
	}));
	const terms = solveThreeTerms([open, short, load], frequencies);
	const truth = fromPairs(bridge.gamma_true[name]);
	const raw = fromPairs(bridge.raw[name]);
	expect(largestDifference(gammaFromRaw(terms, raw), truth)).toBeLessThan(TOLERANCE);
	// the check can fail: uncorrected, the bridge is far from the truth, except on its own 50 Ω
	expect(largestDifference(raw, truth)).toBeGreaterThan(name === 'thru_50' ? 1e-3 : 0.1);
});
