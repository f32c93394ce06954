import { expect, test } from 'vitest';
import { at, complex, complexArray, magnitude, put, subtract } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { sensitivities } from '#lib/reflectometer/calibration-influence.ts';
import { gammaFromRaw } from '#lib/reflectometer/correction.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { fitTerms } from '#lib/reflectometer/least-squares.ts';
import type { NoisyStandard } from '#lib/reflectometer/least-squares.ts';
import { definitionGamma } from '#lib/reflectometer/standard-definition.ts';
import bridge from './data/bridge/bridge.json';
import reference from './data/least-squares/least-squares.json';

const fromPair = ([re, im]: readonly number[]): Complex => complex(re, im);
const fromPairs = (pairs: readonly (readonly number[])[]): ComplexArray => ({
	re: Float64Array.from(pairs, ([re]) => re),
	im: Float64Array.from(pairs, ([, im]) => im)
});
const everywhere = (value: Complex, length: number): ComplexArray => {
	const out = complexArray(length);
	for (let i = 0; i < length; i++) put(out, i, value);
	return out;
};
const names = ['directivity', 'sourceMatch', 'tracking'] as const;

// A general-purpose optimiser on the same readings; provenance beside the data.
test.each(reference.cases.map((given, k) => [k, given] as const))(
	'the terms are those of an independent optimiser: case %d',
	(_, given) => {
		const standards = reference.known.map((known, k) => ({
			known: everywhere(fromPair(known), 1),
			raw: everywhere(fromPair(given.raw[k]), 1),
			scatter: { variance: Float64Array.of(given.variance[k]), relation: complexArray(1) }
		}));
		const { terms, chiSquared } = fitTerms(standards, [169.5e6]);
		for (const name of names)
			expect(magnitude(subtract(at(terms[name], 0), fromPair(given[name])))).toBeLessThan(1e-7);
		expect(chiSquared[0] / given.chi_squared).toBeCloseTo(1, 9);
	}
);

test.each(reference.cases.map((given, k) => [k, given] as const))(
	'and so is what an error in one reading does, to two parts in a thousand: case %d',
	(_, given) => {
		const length = reference.tests.length;
		const standards = reference.known.map((known, k) => ({
			known: everywhere(fromPair(known), length),
			scatter: {
				variance: new Float64Array(length).fill(given.variance[k]),
				relation: complexArray(length)
			}
		}));
		const [directivity, sourceMatch, tracking] = names.map((name) =>
			everywhere(fromPair(given.true[name]), length)
		);
		const terms: ErrorTerms = { directivity, sourceMatch, tracking };
		const stated = sensitivities(terms, standards, fromPairs(reference.tests));
		given.sensitivity.forEach((row, k) =>
			row.forEach((found, j) => {
				const difference = magnitude(subtract(at(stated[k], j), fromPair(found)));
				expect(difference).toBeLessThan(2e-3 * magnitude(fromPair(found)));
			})
		);
	}
);

// Independent circuit simulator, provenance beside the data: open, short and load by their definitions, with two of the
// devices as further known parts. Weights must not matter where everything fits.
test.each([
	['resonator', ['series_rl', 'shunt_rc']],
	['series_rl', ['resonator', 'thru_50']],
	['shunt_rc', ['series_rl', 'resonator']]
] as const)('calibrated with five standards, the bridge reads the true %s', (device, extra) => {
	const frequencies = Float64Array.from(bridge.frequencies_hz);
	const { open_c, short_l, load_r, load_l } = bridge.standards;
	const known = {
		open: definitionGamma({ kind: 'open', capacitance: [open_c, 0, 0, 0] }, frequencies),
		short: definitionGamma({ kind: 'short', inductance: [short_l, 0, 0, 0] }, frequencies),
		load: definitionGamma({ kind: 'load', resistance: load_r, inductance: load_l }, frequencies)
	};
	const standards: NoisyStandard[] = [
		...(['open', 'short', 'load'] as const).map((name) => [name, known[name]] as const),
		...extra.map((name) => [name, fromPairs(bridge.gamma_true[name])] as const)
	].map(([name, gamma], k) => ({
		known: gamma,
		raw: fromPairs(bridge.raw[name]),
		scatter: {
			variance: new Float64Array(frequencies.length).fill(10 ** -k),
			relation: complexArray(frequencies.length)
		}
	}));
	const { terms, residuals } = fitTerms(standards, frequencies);
	const read = gammaFromRaw(terms, fromPairs(bridge.raw[device]));
	const truth = fromPairs(bridge.gamma_true[device]);
	for (let i = 0; i < frequencies.length; i++) {
		expect(magnitude(subtract(at(read, i), at(truth, i)))).toBeLessThan(1e-9);
		for (const residual of residuals) expect(magnitude(at(residual, i))).toBeLessThan(1e-9);
	}
});
