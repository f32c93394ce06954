import { expect, test } from 'vitest';
import { at, complex, complexArray, put, subtract } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { streamOf } from '#lib/numeric/random.ts';
import { frozenScatter } from '#lib/reflectometer/calibration-influence.ts';
import { gammaFromRaw, rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { fitTerms } from '#lib/reflectometer/least-squares.ts';
import { covarianceOf, readingScatter } from '#lib/reflectometer/scatter.ts';
import { measuredStandard } from '#lib/reflectometer/standard.ts';
import type { Standard } from '#lib/reflectometer/standard.ts';
import type { StandardDefinition } from '#lib/reflectometer/standard-definition.ts';
import { averagedRaw } from '#lib/reflectometer/sweep.ts';
import { differenceScatter, verify } from '#lib/reflectometer/verification.ts';
import { chiSquaredInterval } from './chi-squared.ts';

/** Each point is a calibration of its own, all at one frequency. */
const TRIALS = 4000;
const AVERAGES = 4;
const frequencies = new Float64Array(TRIALS).fill(169.5e6);
const port = portErrorTerms(
	{
		directivity: { size: -20, delay: 0.4e-9 },
		sourceMatch: { size: -14, delay: 0.7e-9 },
		tracking: { size: -6, delay: 1.1e-9 }
	},
	frequencies
);

const same = (definition: StandardDefinition): Standard => ({ declared: definition, actual: definition });
const open = same({ kind: 'open', capacitance: [50e-15, 0, 0, 0] });
const short = same({ kind: 'short', inductance: [0.1e-9, 0, 0, 0] });
const load = same({ kind: 'load', resistance: 50, inductance: 0 });
const low = same({ kind: 'load', resistance: 25, inductance: 0 });
const delayed = same({
	kind: 'open',
	capacitance: [50e-15, 0, 0, 0],
	offset: { delay: 300e-12, impedance: 50, loss: 3e9 }
});

type Noise = Pick<
	Parameters<typeof averagedRaw>[1],
	'floorDeviation' | 'amplitudeDeviation' | 'phaseDeviation'
>;
/** Floor noise alone, circular; and trace noise of which the phase part is ten times the amplitude part. */
const floor: Noise = { floorDeviation: 2e-4, amplitudeDeviation: 0, phaseDeviation: 0 };
const phase: Noise = { floorDeviation: 5e-5, amplitudeDeviation: 2e-4, phaseDeviation: 2e-3 };

/** The averaged noisy readings of one reflection. */
const reader =
	(noise: Noise, stream: string) =>
	(gamma: ComplexArray): ComplexArray => {
		const options = { ...noise, seed: 12, stream: streamOf(stream) };
		return averagedRaw(rawFromGamma(port, gamma), options, { first: 0, count: AVERAGES });
	};

function calibrated(standards: readonly Standard[], noise: Noise, name: string) {
	const measured = standards.map((standard, k) => {
		const one = measuredStandard(standard, frequencies, reader(noise, `${name} ${k}`));
		return { ...one, scatter: readingScatter(one.raw, noise, AVERAGES) };
	});
	return { measured, ...fitTerms(measured, frequencies) };
}

/** A part measured after a calibration, against what it is declared to be. */
function verified(standards: readonly Standard[], part: Standard, noise: Noise, name: string) {
	const { measured, terms } = calibrated(standards, noise, name);
	const { known, raw } = measuredStandard(part, frequencies, reader(noise, `${name} again`));
	const reading = readingScatter(raw, noise, AVERAGES);
	return verify(known, gammaFromRaw(terms, raw), differenceScatter(terms, measured, known, reading));
}

/** Between these counts a binomial of 4000 and 5 % lies but for 1e-4: 200 ± 3.8906·√190. */
const FEWEST = 146;
const MOST = 254;
const outside = (within: readonly boolean[]): number => within.filter((inside) => !inside).length;

const everywhere = (value: Complex): ComplexArray => {
	const out = complexArray(TRIALS);
	for (let i = 0; i < TRIALS; i++) put(out, i, value);
	return out;
};

// Gauss and Markov: the covariance of weighted least squares, whitened. Sample: 4000 noisy calibrations with five
// standards, 8000 degrees of freedom, false alarms 1e-4 a case (within 6 %).
test.each([
	{ name: 'floor noise, Γ = 0.5 + 0.3j', gamma: complex(0.5, 0.3), noise: floor },
	{ name: 'floor noise, Γ = −0.2 + 0.9j', gamma: complex(-0.2, 0.9), noise: floor },
	{ name: 'phase noise, a match', gamma: complex(0), noise: phase },
	{ name: 'phase noise, Γ = 0.5 + 0.3j', gamma: complex(0.5, 0.3), noise: phase }
])('noise of five standards spreads a noiseless reading as stated: $name', ({ name, gamma, noise }) => {
	const standards = [open, short, load, low, delayed];
	const { measured, terms } = calibrated(standards, noise, `five, ${name}`);
	const truth = everywhere(gamma);
	const read = gammaFromRaw(terms, rawFromGamma(port, truth));
	const { rr, ii, ri } = covarianceOf(frozenScatter(port, measured, truth), 0);
	let sum = 0;
	for (let i = 0; i < TRIALS; i++) {
		const { re, im } = subtract(at(read, i), gamma);
		sum += (ii * re * re - 2 * ri * re * im + rr * im * im) / (rr * ii - ri * ri);
	}
	const [lowest, highest] = chiSquaredInterval(2 * TRIALS);
	expect(sum / (2 * TRIALS)).toBeGreaterThan(lowest);
	expect(sum / (2 * TRIALS)).toBeLessThan(highest);
});

// χ² of the residuals of n standards has 2(n − 3) degrees of freedom for circular noise (any text on least squares).
// Sample: 4000 calibrations, 16000 and 8000 degrees of freedom, false alarms 1e-4 a case.
test.each([
	[5, [open, short, load, low, delayed]],
	[4, [open, short, load, low]]
])('what %d right standards leave unexplained is noise', (count, standards) => {
	const { chiSquared } = calibrated(standards, floor, `residuals ${count}`);
	const freedom = 2 * (count - 3) * TRIALS;
	const ratio = chiSquared.reduce((sum, value) => sum + value, 0) / freedom;
	const [lowest, highest] = chiSquaredInterval(freedom);
	expect(ratio).toBeGreaterThan(lowest);
	expect(ratio).toBeLessThan(highest);
});

// The definition of a 95 % region. Sample: 4000 calibrations each with one later reading; false alarms 1e-4 a case.
test.each([
	['a standard used, measured again', [open, short, load], short, floor],
	['a part not used', [open, short, load], low, floor],
	['a part not used, after five standards', [open, short, load, low, delayed], load, floor],
	['a standard used, under phase noise', [open, short, load], short, phase],
	['a part not used, under phase noise', [open, short, load], delayed, phase]
])('of %s five in a hundred lie outside the predicted region', (name, standards, part, noise) => {
	const count = outside(verified(standards, part, noise, name).within);
	expect(count).toBeGreaterThanOrEqual(FEWEST);
	expect(count).toBeLessThanOrEqual(MOST);
});

test('a circle instead of the region would be wrong under phase noise', () => {
	// the check above can fail: of a cloud ten times as long as wide a circle of the same total variance misses more
	const { difference, radius } = verified([open, short, load], short, phase, 'a circle');
	const { measured, terms } = calibrated([open, short, load], phase, 'a circle');
	const reading = readingScatter(measured[1].raw, phase, AVERAGES);
	const { variance } = differenceScatter(terms, measured, measured[1].known, reading);
	let missed = 0;
	for (let i = 0; i < TRIALS; i++) {
		const size = Math.hypot(difference.re[i], difference.im[i]);
		if (size > Math.sqrt((5.9915 * variance[i]) / 2)) missed++;
		expect(radius[i]).toBeGreaterThan(Math.sqrt((5.9915 * variance[i]) / 2));
	}
	expect(missed).toBeGreaterThan(MOST);
});

// A load that is 51 Ω and is declared as 50 Ω. Floor noise 1e-4 after averaging is 2e-4 in Γ behind a tracking of 0.5;
// the part of 25 Ω reads 24.51 Ω, −0.0088 in Γ, some twenty predicted deviations away.
const worn: Standard = { declared: load.declared, actual: { kind: 'load', resistance: 51, inductance: 0 } };

test('measuring a wrongly declared standard again shows nothing, however often', () => {
	const count = outside(verified([open, short, worn], worn, floor, 'worn').within);
	expect(count).toBeGreaterThanOrEqual(FEWEST);
	expect(count).toBeLessThanOrEqual(MOST);
});

test('a known part that was not used shows it every time', () => {
	const { within, difference, agrees } = verified([open, short, worn], low, floor, 'worn, 25 ohm');
	expect(outside(within)).toBe(TRIALS);
	expect(agrees).toBe(false);
	// the mean of 4000 differences, each of about 4e-4, is known to 1e-5
	const mean = difference.re.reduce((sum, re) => sum + re, 0) / TRIALS;
	const theory = (25 * 50) / 51;
	expect(Math.abs(mean - ((theory - 50) / (theory + 50) + 1 / 3))).toBeLessThan(5e-5);
});

test('a fourth standard that was right gives the wrong one away in the residuals', () => {
	const { chiSquared } = calibrated([open, short, worn, low], floor, 'worn of four');
	// 2 degrees of freedom each: 18.4 is exceeded by chance once in 10 000
	expect(Math.min(...chiSquared)).toBeGreaterThan(18.4);
});

// `chance` is a probability: of sweeps of 20 points under the right prediction one in twenty falls below 0.05. Sample: 200
// sweeps; a binomial of 200 and 5 % lies outside 1 … 24 with a probability of 6e-5.
test('of whole sweeps five in a hundred disagree by chance', () => {
	const noise = floor;
	const { measured, terms } = calibrated([open, short, load], noise, 'sweeps');
	const { known, raw } = measuredStandard(low, frequencies, reader(noise, 'sweeps again'));
	const scatter = differenceScatter(terms, measured, known, readingScatter(raw, noise, AVERAGES));
	const found = gammaFromRaw(terms, raw);
	const part = ({ re, im }: ComplexArray, first: number): ComplexArray => ({
		re: re.slice(first, first + 20),
		im: im.slice(first, first + 20)
	});
	let disagree = 0;
	for (let first = 0; first < TRIALS; first += 20) {
		const sweep = {
			variance: scatter.variance.slice(first, first + 20),
			relation: part(scatter.relation, first)
		};
		if (!verify(part(known, first), part(found, first), sweep).agrees) disagree++;
	}
	expect(disagree).toBeGreaterThanOrEqual(1);
	expect(disagree).toBeLessThanOrEqual(24);
});
