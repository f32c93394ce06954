import type { ComplexArray } from '#lib/numeric/complex.ts';
import { complexArray } from '#lib/numeric/complex.ts';
import { ratioFromDb, wattsFromDbm } from '#lib/numeric/decibel.ts';
import { streamOf } from '#lib/numeric/random.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { compressed } from '#lib/reflectometer/compression.ts';
import { rawFromGamma } from '#lib/reflectometer/correction.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { leakage, withLeakage } from '#lib/reflectometer/leakage.ts';
import { floorDeviation, traceDeviation } from '#lib/reflectometer/noise.ts';
import { readingDeviations } from '#lib/reflectometer/reference-noise.ts';
import { actualLevel, drawnRipples } from '#lib/reflectometer/source-level.ts';
import type { ReadingNoise } from '#lib/reflectometer/sweep.ts';
import { FREQUENCIES } from './setup.ts';
import type { Receiver, Setup, Source } from './setup.ts';

/** The reflectometer of a setup: what it sends and how it reads, without the line. */

/** Half waves of the ripple of the source over its band. */
const RIPPLES = 6;

/** The level that really goes out at every frequency, dBm into 50 Ω. The ripple is drawn from the seed of the bench. */
export function sourceLevels(source: Source, seed: number, frequencies: Reals): Reals {
	const { level, lowest, highest, error, flatness, stuck } = source;
	const law = {
		stepDb: 0,
		errorDb: error,
		flatness: {
			lowest: FREQUENCIES.from,
			highest: FREQUENCIES.to,
			ripplesDb: flatness === 0 ? [] : drawnRipples(seed, 'source flatness', flatness, RIPPLES)
		},
		// an error is one of the levelling itself, so that its limits move with it
		levelling: { lowest: lowest + Math.min(0, error), highest: highest + Math.max(0, error) },
		stuckDbm: stuck
	};
	return frequencies.map((frequency) => actualLevel(level, law, frequency));
}

/** Waves of these levels, √W. */
export function sourceWaves(levels: Reals): ComplexArray {
	const waves = complexArray(levels.length);
	levels.forEach((level, i) => (waves.re[i] = Math.sqrt(wattsFromDbm(level))));
	return waves;
}

/**
 * The noiseless raw reading of a reflection `gamma` at the port: through its error terms, with leakage and compression, for
 * which the level of the source at every frequency is needed.
 */
export function rawReading(
	port: ErrorTerms,
	leak: Receiver['leakage'],
	compression: Receiver['compression'],
	levels: Reals | null,
	gamma: ComplexArray,
	frequencies: Reals
): ComplexArray {
	const raw = rawFromGamma(port, gamma);
	if (leak !== null) withLeakage(raw, leakage(leak, frequencies), raw);
	if (compression !== null && levels !== null) compressed(raw, levels, compression, raw);
	return raw;
}

/**
 * The noise of the receiver as the sweep engine wants it, for a source that sends the level that is set. All readings of a
 * bench share one stream.
 */
export function receiverNoise({
	seed,
	source,
	receiver
}: Pick<Setup, 'seed' | 'source' | 'receiver'>): ReadingNoise {
	const trace = traceDeviation(receiver.traceNoise, receiver.bandwidth);
	return {
		seed,
		stream: streamOf('receiver'),
		floorDeviation: floorDeviation(receiver.floor, receiver.bandwidth, source.level),
		amplitudeDeviation: trace.amplitude,
		phaseDeviation: trace.phase
	};
}

/**
 * Floor noise of a reading at every frequency as a share of `receiverNoise`: larger where the source sends less than is
 * set, and with the reference receiver's own noise where much comes back. Null where it is 1 everywhere.
 */
export function floorShares(
	floor: number,
	referenceFloor: number | null,
	setLevel: number,
	levels: Reals,
	raw: ComplexArray
): Reals | null {
	if (referenceFloor === null)
		return levels.every((level) => level === setLevel)
			? null
			: levels.map((level) => ratioFromDb(setLevel - level));
	// both noises grow with the bandwidth alike, so that any will do here
	const alone = floorDeviation(floor, 1, setLevel);
	return readingDeviations(raw, levels, { test: floor, reference: referenceFloor }, 1).map(
		(deviation) => deviation / alone
	);
}
