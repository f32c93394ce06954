import { expect, test } from 'vitest';
import { complex, magnitude } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { streamOf } from '#lib/numeric/random.ts';
import { gammaFromImpedance, impedanceFromGamma } from '#lib/network/impedance.ts';
import { LIGHT_SPEED } from '#lib/network/line.ts';
import { addNoise } from '#lib/reflectometer/detector-noise.ts';
import { detect, detectorLaw } from '#lib/reflectometer/diode-detector.ts';
import {
	addProbed,
	distanceToMinimum,
	gammaFromMinimum,
	phaseOf,
	standingWave,
	wavelengthOn
} from '#lib/reflectometer/slotted-line.ts';
import type { StandingWave } from '#lib/reflectometer/slotted-line.ts';
import { chiSquaredInterval } from './chi-squared.ts';
import { FAR_OFF, meanOf, varianceOf } from './sample.ts';

const line = {
	characteristicImpedance: 50,
	length: 1.8,
	velocityFactor: 1,
	conductorLoss: 0,
	dielectricLoss: 0
};
const law = detectorLaw(169.5e6);

// Pozar, *Microwave Engineering*, 4th ed., 2012, example 2.4 (memory): minima with a short at 0.2, 2.2, 4.2 cm, with the
// load at 0.72, 2.72, 4.72 cm on a scale that rises towards the load, SWR 1.5: λ = 4 cm, distance 1.48 cm,
// Γ = 0.2∠86.4°, Z = 47.3 + j19.7 Ω.
const wavelength = 0.04;
test('the impedance of the textbook from its minima', () => {
	for (const short of [0.2, 2.2, 4.2])
		for (const load of [0.72, 2.72, 4.72])
			expect(distanceToMinimum(-load / 100, -short / 100, wavelength)).toBeCloseTo(0.0148, 12);
	const gamma = gammaFromMinimum(1.5, 0.0148, wavelength);
	expect(magnitude(gamma)).toBeCloseTo(0.2, 12);
	expect((Math.atan2(gamma.im, gamma.re) * 180) / Math.PI).toBeCloseTo(86.4, 9);
	const { re, im } = impedanceFromGamma(gamma);
	expect([re.toFixed(1), im.toFixed(1)]).toEqual(['47.3', '19.7']);
});

test('the same example the other way: the standing waves of short and load have those minima', () => {
	const frequency = LIGHT_SPEED / wavelength;
	// the plane of the load is at 6.2 cm of the scale, where a short has one of its minima
	const positions = Float64Array.from({ length: 151 }, (_, i) => i * 0.0004);
	const wave = (impedance: Complex): StandingWave => {
		const watts = new Float64Array(positions.length);
		addProbed({ line, couplingDb: 0 }, gammaFromImpedance(impedance), frequency, 0, positions, watts);
		return standingWave(positions, watts);
	};
	const short = wave(complex(0));
	expect(short.wavelength).toBeCloseTo(0.04, 6);
	short.minima.forEach((place, k) => expect(6.2 - 100 * place).toBeCloseTo([4.2, 2.2][k], 3));
	const load = wave(complex(47.3, 19.7));
	expect(load.swr).toBeCloseTo(1.5, 2);
	expect(load.minima.length).toBeGreaterThan(1);
	load.minima.forEach((place, k) => expect(6.2 - 100 * place).toBeCloseTo([4.72, 2.72, 0.72][k], 2));
});

// Sample: 1600 scans, in 100 groups of 16; false alarms 3e-4. Averaging the voltages of 16 scans divides the spread of the
// phase of Γ by four.
test('noise of the probe leaves the phase of Γ unbiased, and averages', () => {
	const positions = Float64Array.from({ length: 37 }, (_, i) => 0.05 * i);
	const watts = new Float64Array(positions.length);
	addProbed({ line, couplingDb: -30 }, complex(0.3, 0.2), 169.5e6, 0, positions, watts);
	const quiet = detect(law, watts);
	const truth = standingWave(positions, quiet).minima[0];
	const noise = { seed: 4, stream: streamOf('slotted line'), deviation: 1e-5 };
	const turn = phaseOf(1, wavelengthOn(line, 169.5e6));
	const phases: number[] = [];
	const averaged: number[] = [];
	for (let group = 0; group < 100; group++) {
		const sum = new Float64Array(positions.length);
		for (let scan = 0; scan < 16; scan++) {
			const volts = quiet.slice();
			addNoise(volts, noise, 16 * group + scan);
			phases.push(turn * standingWave(positions, volts).minima[0]);
			volts.forEach((value, i) => (sum[i] += value / 16));
		}
		averaged.push(turn * standingWave(positions, sum).minima[0]);
	}
	const error = Math.sqrt(varianceOf(phases) / phases.length);
	expect(Math.abs(meanOf(phases) - turn * truth) / error).toBeLessThan(FAR_OFF);
	// the check can fail: the spread is far larger than the error of the mean
	expect(Math.sqrt(varianceOf(phases))).toBeGreaterThan(0.005);
	const [low, high] = chiSquaredInterval(99);
	const ratio = (16 * varianceOf(averaged)) / varianceOf(phases);
	const [lowAll, highAll] = chiSquaredInterval(1599);
	expect(ratio).toBeGreaterThan(low / highAll);
	expect(ratio).toBeLessThan(high / lowAll);
});
