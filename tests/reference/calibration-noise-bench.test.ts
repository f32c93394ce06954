import { expect, test } from 'vitest';
import { at, complexArray, magnitude } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { finished } from '#lib/numeric/slices.ts';
import { solveCalibration } from '#lib/bench/calibrate.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { deviceCatalogue } from '#lib/bench/device-catalogue.ts';
import { calibrations } from '#lib/bench/calibrations.ts';
import { EMPTY_HISTORY, withCalibration } from '#lib/bench/history.ts';
import type { Calibration } from '#lib/bench/calibrations.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { calibrationSensitivity } from '#lib/reflectometer/calibration.ts';
import { rawFromGamma } from '#lib/reflectometer/correction.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';
import { chiSquaredInterval } from './chi-squared.ts';

const AVERAGES = 4;
const CALIBRATIONS = 20;
const POINTS = 101;

/** Calibrated at the device, no trace noise, so that the closed form has one kind of noise to tell of. */
const base: Setup = {
	...defaultBench.setup,
	sweep: { start: 160e6, stop: 180e6, points: POINTS },
	source: { ...defaultBench.setup.source, level: 0 },
	receiver: {
		...defaultBench.setup.receiver,
		floor: -125,
		bandwidth: 100,
		traceNoise: { amplitude: 0, phase: 0, bandwidth: 1000 }
	},
	processing: { ...defaultBench.setup.processing, extension: { delay: 0, loss: 0 } }
};

/** The calibration made of `setup` after `sweep` sweeps. */
function calibrationAt(sweep: number, setup: Setup): Calibration {
	return calibrations(
		withCalibration({ ...EMPTY_HISTORY, nextSweep: sweep }, setup, setup.parts.length, AVERAGES).history
	)[0];
}

function solved(calibration: Calibration): ErrorTerms {
	return finished(solveCalibration(calibration)).terms;
}

const quiet: Setup = {
	...base,
	source: { ...base.source, level: 10 },
	receiver: { ...base.receiver, floor: -174, bandwidth: 1 }
};

// The closed form: the quadratic Lagrange polynomials through the three standards (derived in the comment of
// `calibrationSensitivity`, checked against simulated calibrations without a bench in calibration-noise.test.ts). Here
// the whole way: setup, events, regenerated standards, terms, correction, picture. Variance of one reading of the
// floor by hand, both quadratures: −125 dBm/Hz in 100 Hz under 0 dBm is 10^(−105/10), divided by 4 averages.
// Sample: 20 calibrations of 101 points, 4040 degrees of freedom, false alarms 1e-4 a case.
test.each(['mast preamp', '50 ohm load', 'open', 'inductive load'])(
	'noise of a calibration stays in the noiseless reading of the %s as stated',
	(name) => {
		const device = deviceCatalogue.find((d) => d.name === name)?.device ?? base.device;
		const setup = { ...base, device };
		const simulation = new Simulation();
		const pictures = Array.from({ length: CALIBRATIONS }, (_, k) =>
			simulation.picture({
				revision: k,
				setup,
				calibration: calibrationAt(3 * AVERAGES * k, setup),
				damage: [],
				firstSweep: 1_000_000,
				sweeps: 1
			})
		);
		const { frequencies, driven: truth } = pictures[0];
		const terms = solved(calibrationAt(0, quiet));
		const known = (['open', 'short', 'load'] as const).map((standard) =>
			standardGamma(standard, setup.standards, frequencies)
		) as [ComplexArray, ComplexArray, ComplexArray];
		const sensitivities = ([0, 1, 2] as const).map((k) => calibrationSensitivity(terms, known, k, truth));
		const single = 10 ** (-105 / 10) / AVERAGES;
		let sum = 0;
		for (const { expected } of pictures)
			for (let i = 0; i < POINTS; i++) {
				const squares = (expected.re[i] - truth.re[i]) ** 2 + (expected.im[i] - truth.im[i]) ** 2;
				const variance = single * sensitivities.reduce((all, s) => all + magnitude(at(s, i)) ** 2, 0);
				sum += squares / variance;
			}
		const [low, high] = chiSquaredInterval(2 * CALIBRATIONS * POINTS);
		expect(sum / (CALIBRATIONS * POINTS)).toBeGreaterThan(low);
		expect(sum / (CALIBRATIONS * POINTS)).toBeLessThan(high);
	}
);

test('the terms a bench finds without noise explain its standards', () => {
	// the definition of error terms: what they make of a standard is what was read of it
	const calibration = calibrationAt(0, quiet);
	const terms = solved(calibration);
	const picture = new Simulation().picture({
		revision: 1,
		setup: { ...quiet, device: { kind: 'impedance', name: 'load', resistance: 50, reactance: 0 } },
		calibration: null,
		damage: [],
		firstSweep: 0,
		sweeps: 1
	});
	const read = rawFromGamma(terms, complexArray(POINTS));
	for (let i = 0; i < POINTS; i++) {
		expect(read.re[i]).toBeCloseTo(picture.expected.re[i], 8);
		expect(read.im[i]).toBeCloseTo(picture.expected.im[i], 8);
	}
});

test('a hundred times the averages of a reading do not lessen the noise of its calibration', () => {
	const calibration = calibrationAt(0, base);
	const error = (sweeps: number): number => {
		const setup = { ...base, processing: { ...base.processing, averages: sweeps } };
		const { displayed, driven: truth } = new Simulation().picture({
			revision: 1,
			setup,
			calibration,
			damage: [],
			firstSweep: 1_000_000,
			sweeps
		});
		return Math.sqrt(
			displayed.re.reduce((s, re, i) => s + (re - truth.re[i]) ** 2 + (displayed.im[i] - truth.im[i]) ** 2, 0)
		);
	};
	expect(error(4000) / error(40)).toBeGreaterThan(0.8);
});
