import { expect, test } from 'vitest';
import { argument, complex, magnitude, polar, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { dbmFromWatts } from '#lib/numeric/decibel.ts';
import { gammaFromImpedance, impedanceFromGamma, swr } from '#lib/network/impedance.ts';
import { LIGHT_SPEED } from '#lib/network/line.ts';
import type { LineSection } from '#lib/network/line.ts';
import { detect, detectorLaw } from '#lib/reflectometer/diode-detector.ts';
import {
	addProbed,
	distanceToMinimum,
	gammaFromMinimum,
	phaseOf,
	standingWave,
	swrFromWidth,
	wavelengthOn
} from '#lib/reflectometer/slotted-line.ts';
import type { StandingWave } from '#lib/reflectometer/slotted-line.ts';

const FREQUENCY = 169.5e6;
const line: LineSection = {
	characteristicImpedance: 50,
	length: 2.6,
	velocityFactor: 1,
	conductorLoss: 0,
	dielectricLoss: 0
};
const law = detectorLaw(FREQUENCY);
const SHORT = complex(-1);

const places = (step: number): Float64Array<ArrayBuffer> =>
	Float64Array.from({ length: Math.round(line.length / step) + 1 }, (_, i) => i * step);

function voltsAt(load: Complex, dbm: number, positions: Float64Array<ArrayBuffer>, on = line) {
	const watts = new Float64Array(positions.length);
	addProbed({ line: on, couplingDb: -30 }, load, FREQUENCY, dbm, positions, watts);
	return detect(law, watts);
}

function scan(load: Complex, dbm: number, step: number, on = line): StandingWave {
	const positions = places(step);
	return standingWave(positions, voltsAt(load, dbm, positions, on));
}

/** Γ by the standing-wave ratio of `load` and the minima of load and short. */
function measured(load: Complex, dbm: number, step: number): Complex {
	const wave = scan(load, dbm, step);
	const short = scan(SHORT, dbm, step);
	const distance = distanceToMinimum(wave.minima[0], short.minima[0], short.wavelength);
	return gammaFromMinimum(wave.swr, distance, short.wavelength);
}

test('wavelength: 1.7687 m at 169.5 MHz in air', () => {
	expect(wavelengthOn(line, FREQUENCY)).toBeCloseTo(LIGHT_SPEED / FREQUENCY, 12);
	expect(wavelengthOn({ ...line, velocityFactor: 0.5 }, FREQUENCY)).toBeCloseTo(0.5 * 1.76869, 4);
	expect(scan(SHORT, 0, 0.01).wavelength).toBeCloseTo(1.76869, 4);
});

test.each([0.2, 0.5, 0.9].flatMap((size) => [-3, -1, 0.1, 1.5, 3].map((angle) => [size, angle] as const)))(
	'a reflection of %f at %f rad is found again from probe readings every centimetre',
	(size, angle) => {
		const gamma = polar(size, angle);
		const found = measured(gamma, -10, 0.01);
		expect(magnitude(subtract(found, gamma))).toBeLessThan(0.004);
	}
);

test('no wave comes back, and the probe takes its share at every position', () => {
	const volts = voltsAt(complex(0), 0, places(0.1));
	const watts = Float64Array.of(1e-6);
	for (const value of volts) expect(value).toBeCloseTo(detect(law, watts)[0], 15);
});

test('the standing wave is that of the line: 1 + |Γ| and 1 − |Γ|, minimum and maximum a quarter wave apart', () => {
	const wave = scan(polar(0.5, Math.PI), -20, 0.005);
	expect(wave.swr).toBeCloseTo(swr(0.5), 3);
	const watts = new Float64Array(2);
	const positions = Float64Array.of(0, wavelengthOn(line, FREQUENCY) / 4);
	addProbed({ line, couplingDb: -30 }, polar(0.5, Math.PI), FREQUENCY, 0, positions, watts);
	expect(dbmFromWatts(watts[0])).toBeCloseTo(-30 + 20 * Math.log10(0.5), 9);
	expect(dbmFromWatts(watts[1])).toBeCloseTo(-30 + 20 * Math.log10(1.5), 9);
});

test('a reflection in 50 Ω stands as another one on a line of 75 Ω', () => {
	const load = gammaFromImpedance(complex(75));
	expect(scan(load, -20, 0.01, { ...line, characteristicImpedance: 75 }).swr).toBeCloseTo(1, 9);
	const open = complex(1);
	expect(scan(open, -20, 0.01, { ...line, characteristicImpedance: 75 }).minima[0]).toBeCloseTo(0.44217, 3);
});

test('a lossy line: the wave is larger towards the source and its minima are less deep', () => {
	const lossy = { ...line, dielectricLoss: 0.1 / FREQUENCY };
	const positions = Float64Array.of(0, 1);
	const watts = new Float64Array(2);
	addProbed({ line: lossy, couplingDb: 0 }, complex(0), FREQUENCY, 0, positions, watts);
	expect(watts[1] / watts[0]).toBeCloseTo(Math.exp(0.2), 12);
	const volts = voltsAt(SHORT, -20, places(0.01), lossy);
	expect(volts[0]).toBeLessThan(1e-15);
	// half a wave away: |e^αx − e^−αx|² of a tenth of a neper a metre
	const half = wavelengthOn(line, FREQUENCY) / 2;
	addProbed({ line: lossy, couplingDb: 0 }, SHORT, FREQUENCY, 0, positions.fill(half), watts.fill(0));
	expect(watts[1] / 1e-3).toBeCloseTo((2 * Math.sinh(0.1 * half)) ** 2, 9);
});

test('driven out of its square law the detector shows a standing-wave ratio too low, at the right place', () => {
	const load = polar(0.8, 1);
	const quiet = scan(load, -20, 0.005);
	const loud = scan(load, 30, 0.005);
	expect(quiet.swr).toBeCloseTo(9, 1);
	expect(loud.swr).toBeLessThan(5.5);
	expect(loud.minima[0]).toBeCloseTo(quiet.minima[0], 3);
});

test('the width of a minimum gives a high standing-wave ratio', () => {
	const size = 0.95;
	const wavelength = wavelengthOn(line, FREQUENCY);
	const minimum = wavelength / 2;
	const lowest = (1 - size) ** 2;
	const watts = (x: number): number => {
		const out = new Float64Array(1);
		addProbed({ line, couplingDb: 0 }, polar(size, Math.PI), FREQUENCY, 30, Float64Array.of(x), out);
		return out[0];
	};
	expect(watts(minimum)).toBeCloseTo(lowest, 12);
	let [from, to] = [0, wavelength / 8];
	for (let k = 0; k < 60; k++) {
		const middle = (from + to) / 2;
		if (watts(minimum + middle) < 2 * lowest) from = middle;
		else to = middle;
	}
	expect(swrFromWidth(2 * from, wavelength)).toBeCloseTo(swr(size), 6);
});

test('any minimum of load and short gives the same distance', () => {
	const half = 0.5;
	for (const load of [0.1, 0.6, 2.1])
		for (const short of [0, 0.5, 3]) expect(distanceToMinimum(load, short, 2 * half)).toBeCloseTo(0.1, 12);
	expect(distanceToMinimum(0.2, 0.3, 1)).toBeCloseTo(0.4, 12);
});

test('a millimetre on the scale is 0.41° of the phase of Γ at 169.5 MHz', () => {
	const wavelength = wavelengthOn(line, FREQUENCY);
	expect((phaseOf(1e-3, wavelength) * 180) / Math.PI).toBeCloseTo(0.40708, 4);
	const one = gammaFromMinimum(2, 0.3, wavelength);
	const other = gammaFromMinimum(2, 0.301, wavelength);
	expect(argument(other) - argument(one)).toBeCloseTo(phaseOf(1e-3, wavelength), 9);
});

test('extremes: an infinite ratio, a short at the plane, a flat wave', () => {
	expect(magnitude(subtract(gammaFromMinimum(Infinity, 0, 1), SHORT))).toBeLessThan(1e-12);
	expect(impedanceFromGamma(gammaFromMinimum(1, 0.2, 1))).toEqual(complex(50));
	const positions = Float64Array.of(0, 1, 2);
	expect(standingWave(positions, Float64Array.of(1, 1, 1))).toMatchObject({ swr: 1, minima: [] });
	const noisy = standingWave(positions, Float64Array.of(-1e-7, 1, 2));
	expect(noisy.swr).toBe(Infinity);
	expect(noisy.wavelength).toBeNaN();
});

test('noise with peaks of a quarter of the swing makes no false minima', () => {
	const positions = places(0.002);
	const volts = voltsAt(polar(0.5, 2), -10, positions);
	const { minima, highest, lowest } = standingWave(positions, volts);
	const peak = 0.25 * (highest - lowest);
	const noisy = volts.map((value, i) => value + (i % 2 === 0 ? peak : -peak));
	const found = standingWave(positions, noisy).minima;
	expect(found).toHaveLength(minima.length);
	found.forEach((place, k) => expect(place).toBeCloseTo(minima[k], 2));
});
