import { expect, test } from 'vitest';
import {
	dbFromPower,
	dbmFromWatts,
	powerFromDb,
	thermalNoise,
	voltsFromDbm,
	wattsFromDbm
} from '#lib/numeric/decibel.ts';
import { mismatchLossDb, returnLossDb, swr } from '#lib/network/impedance.ts';

// Definition of dBm (1 mW) and W = V²/R.
test.each([
	[-40, 2.236e-3],
	[-93, 5.006e-6],
	[0, 223.6e-3],
	[10, 707.1e-3]
])('%d dBm in 50 Ω is %f V rms', (dbm, volts) => {
	expect(Math.abs(voltsFromDbm(dbm) / volts - 1)).toBeLessThan(3e-4);
	expect(dbmFromWatts(wattsFromDbm(dbm))).toBeCloseTo(dbm, 12);
});

test('10 W is +40 dBm and a 20 dB pad passes 0.1 W of it', () => {
	// definition of dBm
	expect(dbmFromWatts(10)).toBeCloseTo(40, 12);
	expect(wattsFromDbm(40 - 20)).toBeCloseTo(0.1, 12);
});

test('thermal noise at 290 K: −173.975 dBm in 1 Hz, −143.975 dBm in 1 kHz', () => {
	// SI 2019 value of k, T0 = 290 K
	expect(dbmFromWatts(thermalNoise(1))).toBeCloseTo(-173.975, 3);
	expect(dbmFromWatts(thermalNoise(1000))).toBeCloseTo(-143.975, 3);
});

test('a harmonic of −10 dBc adds 0.41 dB to the total power', () => {
	// powers add: 10·log10(1 + 0.1)
	expect(dbFromPower(1 + powerFromDb(-10))).toBeCloseTo(0.41, 2);
});

// Handbook tables of standing-wave ratio (memory): return loss dB, |Γ|, SWR, mismatch loss dB.
test.each([
	[10, 0.3162, 1.925, 0.4576],
	[14, 0.1995, 1.499, 0.1764],
	[20, 0.1, 1.222, 0.0436],
	[26, 0.0501, 1.106, 0.0109],
	[3, 0.7079, 5.848, 3.021]
])('return loss %f dB is |Γ| %f, SWR %f, mismatch loss %f dB', (loss, gamma, ratio, mismatch) => {
	const exact = 10 ** (-loss / 20);
	expect(Math.abs(exact - gamma)).toBeLessThan(5.1e-5);
	expect(returnLossDb(exact)).toBeCloseTo(loss, 12);
	expect(Math.abs(swr(exact) - ratio)).toBeLessThan(5.1e-4);
	expect(Math.abs(mismatchLossDb(exact) - mismatch)).toBeLessThan(loss === 3 ? 5.1e-4 : 5.1e-5);
});
