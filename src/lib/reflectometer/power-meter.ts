import { dbmFromWatts, powerFromDb } from '#lib/numeric/decibel.ts';
import { normalPair, streamOf } from '#lib/numeric/random.ts';
import { totalPower } from './tone.ts';
import type { Tone } from './tone.ts';

/**
 * A power meter that ends a plane in 50 Ω: it shows the power of everything that arrives, fundamental and harmonics alike,
 * so that a harmonic at −10 dB adds 0.41 dB. It cannot see frequency, phase or what comes back, and nothing below its
 * noise and zero error. Its own small reflection is left out.
 */
export interface PowerMeter {
	/** Factor of what is shown to what arrives: the error of the sensor. */
	readonly gain: number;
	/** Shown when nothing arrives, W: what is left after setting the zero; may be negative. */
	readonly zero: number;
	/** Standard deviation of a reading averaged over 1 s, W. */
	readonly noise: number;
}

/** What the data sheet says of a kind of power meter: three limits that hold 95 times in 100, which is our choice. */
export interface PowerMeterSheet {
	/** dB, either way. */
	readonly accuracyDb: number;
	/** W, either way. */
	readonly zero: number;
	/** W, in a reading averaged over 1 s. */
	readonly noise: number;
}

/** Standard deviations in a limit of 95 %. */
const LIMIT = 1.959964;

/** The one meter of `seed` (0 … 2³² − 1) and `name`, with its hidden errors drawn from a normal distribution. */
export function drawnPowerMeter(sheet: PowerMeterSheet, seed: number, name: string): PowerMeter {
	const [gain, zero] = normalPair(seed, streamOf(name), 0, 0);
	return {
		gain: powerFromDb((sheet.accuracyDb / LIMIT) * gain),
		zero: (sheet.zero / LIMIT) * zero,
		noise: sheet.noise / LIMIT
	};
}

/** Standard deviation in W of a reading averaged over `seconds`: it falls as 1/√time. */
export const powerMeterNoise = (meter: PowerMeter, seconds: number): number =>
	meter.noise / Math.sqrt(seconds);

/** Which reading of which meter: the noise is a pure function of it. */
export interface ReadingNumber {
	/** 0 … 2³² − 1. */
	readonly seed: number;
	/** Of the meter. */
	readonly name: string;
	/** 0, 1, 2 …; the errors of `drawnPowerMeter` and the noise of readings do not share numbers. */
	readonly reading: number;
}

/** One reading in W of the `tones` at its plane, averaged over `seconds` of bench time. Noise may make it negative. */
export function powerReading(
	meter: PowerMeter,
	tones: readonly Tone[],
	seconds: number,
	{ seed, name, reading }: ReadingNumber
): number {
	const [normal] = normalPair(seed, streamOf(`${name} noise`), reading, 0);
	return meter.gain * totalPower(tones) + meter.zero + powerMeterNoise(meter, seconds) * normal;
}

/** A reading as the meter shows it, dBm; −Infinity, nothing to show, for a power of 0 or less. */
export const shownPower = (watts: number): number => dbmFromWatts(Math.max(0, watts));
