import { thermalNoise } from '#lib/numeric/decibel.ts';
import { fillNormals } from '#lib/numeric/random.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { REST_RESISTANCE } from './detector-circuit.ts';

/** Noise of the readings of a voltage; which numbers are drawn depends on seed, stream and sweep alone. */
export interface VoltNoise {
	/** 0 … 2³² − 1. */
	readonly seed: number;
	/** From `streamOf`. */
	readonly stream: number;
	/** Of one reading, V. It does not depend on the level, which for a driven diode is a simplification. */
	readonly deviation: number;
}

/**
 * V, root mean square, in `bandwidth` Hz after the detector: thermal noise √(4kTRB) of what the meter looks into at rest
 * (Nyquist 1928), a diode without bias included. No meter does better; a real one adds noise of its own.
 */
export const restNoise = (bandwidth: number): number =>
	Math.sqrt(4 * REST_RESISTANCE * thermalNoise(bandwidth));

const BLOCK = 256;
const normals = [0, 1, 2, 3].map(() => new Float64Array(BLOCK));

/** Adds noise to the voltages of one sweep (0, 1, 2 …), a point an element. */
export function addNoise(volts: Reals, { seed, stream, deviation }: VoltNoise, sweep: number): void {
	for (let first = 0; first < volts.length; first += BLOCK) {
		const count = Math.min(BLOCK, volts.length - first);
		fillNormals(normals[0], normals[1], normals[2], normals[3], first, count, sweep, stream, seed);
		for (let i = 0; i < count; i++) volts[first + i] += deviation * normals[0][i];
	}
}
