import { powerFromDb, wattsFromDbm } from '#lib/numeric/decibel.ts';
import { fillNormals } from '#lib/numeric/random.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { Tone } from './tone.ts';

/**
 * A swept level check: a filter tuned from frequency to frequency and a meter of the power behind it. It sees fundamental
 * and harmonics apart, each at its own frequency, and through its narrow filter far less noise than a power meter. It
 * cannot see phase or what comes back, nor apart what lies within one bandwidth, and it adds its floor to every level.
 */
export interface LevelCheck {
	/** Noise referred to its input, dBm/Hz. */
	readonly floorDbm: number;
	/** Equivalent noise bandwidth of its filter, Hz. */
	readonly bandwidth: number;
	/** Shown less true level, dB. */
	readonly errorDb: number;
	/** 0 … 2³² − 1. */
	readonly seed: number;
	/** From `streamOf`. */
	readonly stream: number;
}

/**
 * Power passed at `offset` Hz from the middle: a Gaussian filter, e^(−π(offset/B)²), whose equivalent noise bandwidth is
 * exactly B. A bandwidth off the middle it is 13.6 dB down, two 54.6 dB. The shape is our choice.
 */
export const passed = (offset: number, bandwidth: number): number =>
	Math.exp(-Math.PI * (offset / bandwidth) ** 2);

/** Mean noise power behind the filter, W, referred to the input. */
export const levelCheckFloor = ({ floorDbm, bandwidth }: LevelCheck): number =>
	wattsFromDbm(floorDbm) * bandwidth;

const BLOCK = 256;
const normals = [0, 1, 2, 3].map(() => new Float64Array(BLOCK));

/**
 * One sweep (number 0, 1, 2 …): the watts shown at every tuned frequency (Hz), (√P + n)² with P the power of the tones that
 * the filter passes and n the complex Gaussian noise of the floor. Several tones within one bandwidth would beat; they
 * count as one of their total power. The mean of many readings is P + floor; averaging powers does not take the floor off.
 * Written to `out`.
 */
export function sweptLevels(
	check: LevelCheck,
	tones: readonly Tone[],
	frequencies: Reals,
	sweep: number,
	out: Reals = new Float64Array(frequencies.length)
): Reals {
	const deviation = Math.sqrt(levelCheckFloor(check) / 2);
	const gain = powerFromDb(check.errorDb);
	for (let first = 0; first < frequencies.length; first += BLOCK) {
		const count = Math.min(BLOCK, frequencies.length - first);
		fillNormals(
			normals[0],
			normals[1],
			normals[2],
			normals[3],
			first,
			count,
			sweep,
			check.stream,
			check.seed
		);
		for (let i = 0; i < count; i++) {
			let watts = 0;
			for (const tone of tones)
				watts += tone.watts * passed(frequencies[first + i] - tone.frequency, check.bandwidth);
			const re = Math.sqrt(watts) + deviation * normals[0][i];
			const im = deviation * normals[1][i];
			out[first + i] = gain * (re * re + im * im);
		}
	}
	return out;
}
