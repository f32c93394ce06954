import { expect, test } from 'vitest';
import { at, complexArray, magnitude, put, subtract } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { streamOf } from '#lib/numeric/random.ts';
import { calibrationSensitivity, solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';
import { averagedRaw } from '#lib/reflectometer/sweep.ts';
import { chiSquaredInterval } from './chi-squared.ts';

/** Each point is a calibration of its own, all at one frequency. */
const TRIALS = 4000;
const AVERAGES = 4;
const frequencies = new Float64Array(TRIALS).fill(169.5e6);
const terms = portErrorTerms(
	{
		directivity: { size: -20, delay: 0.4e-9 },
		sourceMatch: { size: -14, delay: 0.7e-9 },
		tracking: { size: -6, delay: 1.1e-9 }
	},
	frequencies
);
const definitions = {
	open: { capacitance: 50e-15 },
	short: { inductance: 0.1e-9 },
	load: { resistance: 51, inductance: 0.2e-9 }
};
const everywhere = (value: Complex): ComplexArray => {
	const out = complexArray(TRIALS);
	for (let i = 0; i < TRIALS; i++) put(out, i, value);
	return out;
};

// The closed form: the quadratic Lagrange polynomial through the three standards (derived in the function's comment;
// its simplest case, the ideal open, short and load, is in the unit test). Here against simulated calibrations.
// Sample: 4000 noisy calibrations, 8000 degrees of freedom, false alarms 1e-4 a case (variances within 6 %).
test.each([
	['the open', { re: 1, im: 0 }, 0],
	['a match', { re: 0, im: 0 }, 0],
	['0.5 + 0.3j', { re: 0.5, im: 0.3 }, 0],
	['−0.2 + 0.9j', { re: -0.2, im: 0.9 }, 0],
	['0.5 + 0.3j with trace noise', { re: 0.5, im: 0.3 }, 2e-4]
])(
	'noise frozen into a calibration spreads a later, noiseless reading of %s as stated',
	(name, gamma, trace) => {
		const floorDeviation = 2e-4;
		const known = (['open', 'short', 'load'] as const).map((standard) =>
			standardGamma(standard, definitions, frequencies)
		) as [ComplexArray, ComplexArray, ComplexArray];
		const exact = known.map((standard) => rawFromGamma(terms, standard));
		const [open, short, load] = known.map((standard, k) => {
			const stream = streamOf(`calibration ${k} ${name}`);
			const noise = { seed: 11, stream, floorDeviation, amplitudeDeviation: trace, phaseDeviation: trace };
			return { known: standard, raw: averagedRaw(exact[k], noise, { first: 0, count: AVERAGES }) };
		});
		const solved = solveThreeTerms([open, short, load], frequencies);
		const truth = everywhere(gamma);
		const read = gammaFromRaw(solved, rawFromGamma(terms, truth));
		let squares = 0;
		for (let i = 0; i < TRIALS; i++) squares += magnitude(subtract(at(read, i), at(truth, i))) ** 2;
		let variance = 0;
		for (const k of [0, 1, 2] as const) {
			const single = 2 * floorDeviation ** 2 + 2 * trace ** 2 * magnitude(at(exact[k], 0)) ** 2;
			const sensitivity = magnitude(at(calibrationSensitivity(terms, known, k, truth), 0));
			variance += (sensitivity ** 2 * single) / AVERAGES;
		}
		const [low, high] = chiSquaredInterval(2 * TRIALS);
		expect(squares / TRIALS / variance).toBeGreaterThan(low);
		expect(squares / TRIALS / variance).toBeLessThan(high);
	}
);
