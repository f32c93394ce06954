import { expect, test } from 'vitest';
import { complexArray, polar, put } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { dbmFromWatts, ratioFromDb } from '#lib/numeric/decibel.ts';
import { streamOf } from '#lib/numeric/random.ts';
import { addNoise, restNoise } from '#lib/reflectometer/detector-noise.ts';
import {
	detect,
	detectorLaw,
	metered,
	squareLawErrorDb,
	squareLawLevel,
	trueLevel
} from '#lib/reflectometer/diode-detector.ts';
import type { Meter } from '#lib/reflectometer/diode-detector.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import {
	addReturned,
	gammaLimits,
	openShortReference,
	returnLossLimits,
	shownReturnLoss
} from '#lib/reflectometer/scalar-bridge.ts';

const ANGLES = 180;
const law = detectorLaw(169.5e6);

/** One value at every angle, a point an element. */
function around(value: (angle: number) => Complex): ComplexArray {
	const out = complexArray(ANGLES);
	for (let i = 0; i < ANGLES; i++) put(out, i, value((2 * Math.PI * i) / ANGLES));
	return out;
}

/** A bridge whose directivity (0.03 of its tracking) turns once, its source match (0.1) three times over the points. */
const sizes = { directivity: 0.03, sourceMatch: 0.1 };
const terms: ErrorTerms = {
	directivity: around((angle) => polar(0.03 * 0.5, angle)),
	sourceMatch: around((angle) => polar(0.1, 3 * angle)),
	tracking: around(() => polar(0.5, 0.7))
};
const perfect: ErrorTerms = {
	...terms,
	directivity: complexArray(ANGLES),
	sourceMatch: complexArray(ANGLES)
};

const level = (dbm: number): Float64Array => new Float64Array(ANGLES).fill(dbm);

/** Levels in dBm shown of `gamma`, without noise. */
function shown(
	bridge: ErrorTerms,
	gamma: ComplexArray,
	dbm: number,
	meter: Meter
): Float64Array<ArrayBuffer> {
	const watts = new Float64Array(ANGLES);
	addReturned(bridge, gamma, level(dbm), watts);
	return metered(law, meter, detect(law, watts));
}

const steady = (size: number): ComplexArray => around(() => polar(size, 0.4));
const open = around(() => polar(1, 0));
const short = around(() => polar(1, Math.PI));

const reference = (bridge: ErrorTerms, dbm: number, meter: Meter): Float64Array<ArrayBuffer> =>
	openShortReference(shown(bridge, open, dbm, meter), shown(bridge, short, dbm, meter));

test('a bridge without errors shows the return loss, at whatever angle the reflection is', () => {
	for (const dbm of [-20, 10]) {
		const loads = around((angle) => polar(0.1, angle));
		const losses = shownReturnLoss(reference(perfect, dbm, trueLevel), shown(perfect, loads, dbm, trueLevel));
		for (const loss of losses) expect(loss).toBeCloseTo(20, 6);
	}
});

test('what is shown against the true 0 dB fills the limits, from one end to the other', () => {
	for (const size of [0.02, 0.1, 0.5, 1]) {
		const losses = shown(terms, steady(size), -20, trueLevel).map((dbm) => -20 + dbmFromWatts(0.25e-3) - dbm);
		const { least, most } = returnLossLimits(size, sizes);
		for (const loss of losses) {
			expect(loss).toBeGreaterThan(least - 1e-6);
			expect(loss).toBeLessThan(most + 1e-6);
		}
		// directivity and reflection meet at every angle
		expect(Math.min(...losses)).toBeLessThan(least + 0.1 + size);
		const back = losses.map((loss) => gammaLimits(loss, sizes).least);
		for (const [i, loss] of losses.entries()) {
			expect(back[i]).toBeLessThan(size + 1e-9);
			expect(gammaLimits(loss, sizes).most).toBeGreaterThan(size - 1e-9);
		}
	}
});

test('without source match the limits are −20·log10(|Γ| ± D)', () => {
	const limits = returnLossLimits(0.1, { directivity: 0.0316, sourceMatch: 0 });
	expect(limits.least).toBeCloseTo(-20 * Math.log10(0.1316), 12);
	expect(limits.most).toBeCloseTo(-20 * Math.log10(0.0684), 12);
	// a reflection smaller than the directivity: |D − |Γ||; one as large may show nothing at all
	expect(returnLossLimits(0.01, { directivity: 0.05, sourceMatch: 0 }).most).toBeCloseTo(
		-20 * Math.log10(0.04),
		12
	);
	expect(returnLossLimits(0.05, { directivity: 0.05, sourceMatch: 0 }).most).toBe(Infinity);
	expect(returnLossLimits(0.05, { directivity: 0.05, sourceMatch: 0.1 }).most).toBeGreaterThan(40);
	expect(gammaLimits(Infinity, { directivity: 0.05, sourceMatch: 0 })).toEqual({ least: 0, most: 0.05 });
	expect(gammaLimits(0, { directivity: 0.05, sourceMatch: 0.97 }).most).toBe(Infinity);
});

test('the mean of open and short is free of directivity and source match to first order', () => {
	const opens = shown(terms, open, -20, trueLevel);
	const means = reference(terms, -20, trueLevel);
	const truth = -20 + dbmFromWatts(0.25e-3);
	const largest = (levels: Float64Array): number => Math.max(...levels.map((dbm) => Math.abs(dbm - truth)));
	expect(largest(opens)).toBeGreaterThan(1);
	// (0.13² of the two together) in dB
	expect(largest(means)).toBeLessThan((0.13 ** 2 * 20) / Math.LN10 / 2);
});

test('the size alone: an open, a short and a reactance look the same', () => {
	const reactance = around(() => polar(1, 1.3));
	for (const other of [short, reactance])
		shown(perfect, other, -20, trueLevel).forEach((dbm, i) =>
			expect(dbm).toBeCloseTo(shown(perfect, open, -20, trueLevel)[i], 9)
		);
});

test('a square-law meter shows too little return loss at high level, by its error at the reference', () => {
	const losses = (dbm: number): Float64Array =>
		shownReturnLoss(
			reference(perfect, dbm, squareLawLevel),
			shown(perfect, steady(0.01), dbm, squareLawLevel)
		);
	expect(losses(-40)[0]).toBeCloseTo(40, 2);
	// a full reflection comes back at 10 − 6.02 dBm, the load 40 dB lower, where the square law holds
	const error = squareLawErrorDb(law, 10 + dbmFromWatts(0.25e-3));
	expect(error).toBeLessThan(-6);
	expect(losses(10)[0]).toBeCloseTo(40 + error, 1);
});

test('harmonics come back as power on top of the tone', () => {
	const watts = new Float64Array(ANGLES);
	addReturned(perfect, steady(0.1), level(-20), watts);
	const alone = watts[0];
	addReturned(perfect, steady(1), level(-50), watts);
	// −30 dB of the tone, all of it reflected, where the tone has 20 dB return loss: a tenth more
	expect(watts[0] / alone).toBeCloseTo(1.1, 12);
});

test('a reflection below the noise: the range ends near the level whose voltage is the noise', () => {
	const deviation = restNoise(1e3);
	const noise = { seed: 3, stream: streamOf('scalar bridge'), deviation };
	const watts = new Float64Array(ANGLES);
	addReturned(perfect, steady(ratioFromDb(-70)), level(0), watts);
	const volts = detect(law, watts);
	addNoise(volts, noise, 0);
	const losses = shownReturnLoss(reference(perfect, 0, trueLevel), metered(law, trueLevel, volts));
	// 76 dB below 0 dBm is a twentieth of the noise: nearly half of the readings show nothing at all
	const nothing = losses.filter((loss) => loss === Infinity).length;
	expect(nothing).toBeGreaterThan(ANGLES * 0.3);
	expect(nothing).toBeLessThan(ANGLES * 0.7);
	const floor = trueLevel(law, deviation);
	expect(floor).toBeGreaterThan(-66);
	expect(floor).toBeLessThan(-62);
});
