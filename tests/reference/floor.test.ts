import { expect, test } from 'vitest';
import { at, complexArray, magnitude, multiply, ONE, subtract } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { dbmFromWatts, thermalNoise } from '#lib/numeric/decibel.ts';
import { padResistors, padTwoPort } from '#lib/network/pad.ts';
import { looking } from '#lib/network/two-port.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import { rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { floorDeviation, floorLevelDbm } from '#lib/reflectometer/noise.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';
import { loadRows, sweepRows, takeSweep } from '#lib/reflectometer/sweep.ts';
import { chiSquaredInterval } from './chi-squared.ts';

// Definition of a noise density: N(B) = N(1 Hz) + 10·log10(B), less 10·log10 of the averaged readings.
test.each([
	[-113, 1000, 1, -83],
	[-113, 10, 1, -103],
	[-113, 1000, 10, -93],
	[-140, 1e6, 100, -100]
])(
	'a floor of %d dBm/Hz in %d Hz, averaged %d times, lies at %d dBm',
	(floor, bandwidth, averages, level) => {
		expect(floorLevelDbm(floor, bandwidth, averages)).toBeCloseTo(level, 10);
	}
);

// SI value of k (2019), T0 = 290 K: −143.975 dBm in 1 kHz.
test('thermal noise as a floor', () => {
	const density = dbmFromWatts(thermalNoise(1));
	expect(Math.abs(floorLevelDbm(density, 1000) - -143.975)).toBeLessThan(0.0005);
});

// Definition: noise power over source power, halved for one of two quadratures. −83 dBm under −23 dBm is 1e-6.
test('the deviation of one quadrature of a reading', () => {
	expect(floorDeviation(-113, 1000, -23)).toBeCloseTo(Math.sqrt(0.5e-6), 15);
});

const POINTS = 4000;
const frequencies = new Float64Array(POINTS).fill(169.5e6);
const constant = (re: number, im: number): ComplexArray => ({
	re: new Float64Array(POINTS).fill(re),
	im: new Float64Array(POINTS).fill(im)
});

/** Mean square deviation of single corrected readings of `gamma`; every call draws the same noise. */
function meanSquare(terms: ErrorTerms, gamma: ComplexArray, deviation: number): number {
	const rows = sweepRows(POINTS);
	loadRows(rows, rawFromGamma(terms, gamma), terms, null);
	const noise = { seed: 3, stream: 5, floorDeviation: deviation, amplitudeDeviation: 0, phaseDeviation: 0 };
	takeSweep(rows, { ...noise, sweep: 0, kept: 1 });
	let sum = 0;
	for (let i = 0; i < POINTS; i++) sum += rows.latestRe[i] ** 2 + rows.latestIm[i] ** 2;
	return sum / POINTS;
}

// σ_Γ = σ_m·|1 − e11·Γ|²/|e10e01|, the derivative of the three-term model. Sample: 4000 readings, 8000 degrees of
// freedom, false alarms 1e-4 a case.
test.each([
	[0, 0],
	[0.6, -0.3],
	[-0.9, 0.2]
])('the floor spreads a corrected reading of %d + %dj as the derivative says', (re, im) => {
	const port = { size: -14, delay: 0.3e-9 };
	const terms = portErrorTerms(
		{ directivity: port, sourceMatch: port, tracking: { size: -3, delay: 1e-9 } },
		frequencies
	);
	const deviation = floorDeviation(-113, 1000, -20);
	const gamma = constant(re, im);
	const trips = magnitude(subtract(ONE, multiply(at(terms.sourceMatch, 0), at(gamma, 0))));
	const expected = 2 * deviation ** 2 * (trips ** 2 / magnitude(at(terms.tracking, 0))) ** 2;
	const [low, high] = chiSquaredInterval(2 * POINTS);
	const ratio = meanSquare(terms, gamma, deviation) / expected;
	expect(ratio).toBeGreaterThan(low);
	expect(ratio).toBeLessThan(high);
});

// Common practice, no source: a pad of A dB lowers the returning level by 2A dB and raises the floor's part of σ_Γ by
// 10^(2A/20). Both sides draw the same noise, so nothing is left to chance.
test.each([3, 6, 10, 20, 30])('a pad of %d dB in front costs twice', (attenuationDb) => {
	const perfect = portErrorTerms(
		{
			directivity: { size: -Infinity, delay: 0 },
			sourceMatch: { size: -Infinity, delay: 0 },
			tracking: { size: 0, delay: 0 }
		},
		frequencies
	);
	const pad = padTwoPort(padResistors(attenuationDb, 'pi'), frequencies);
	const ideal = {
		open: { capacitance: 0 },
		short: { inductance: 0 },
		load: { resistance: 50, inductance: 0 }
	};
	const [open, short, load] = (['open', 'short', 'load'] as const).map((name) => {
		const known = standardGamma(name, ideal, frequencies);
		return { known, raw: rawFromGamma(perfect, looking(pad, known)) };
	});
	const level = 20 * Math.log10(magnitude(at(short.raw, 0)));
	expect(level).toBeCloseTo(-2 * attenuationDb, 9);

	const padded = solveThreeTerms([open, short, load], frequencies);
	const match = complexArray(POINTS);
	const growth = Math.sqrt(meanSquare(padded, match, 1e-6) / meanSquare(perfect, match, 1e-6));
	expect(growth / 10 ** ((2 * attenuationDb) / 20)).toBeCloseTo(1, 6);
});
