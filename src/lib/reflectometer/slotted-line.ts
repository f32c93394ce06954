import { add, complex, exponential, multiply, negate, polar } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { powerFromDb, wattsFromDbm } from '#lib/numeric/decibel.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { gammaFromImpedance, impedanceFromGamma } from '#lib/network/impedance.ts';
import { delayOf, lossOf } from '#lib/network/line.ts';
import type { LineSection } from '#lib/network/line.ts';

/**
 * A slotted line: a probe on a carriage takes a little of the voltage along a line, and a diode detector
 * (`diode-detector.ts`) turns it into a direct voltage. It sees the standing wave, so the size of Γ and, by where the
 * minimum lies against that of a short, its phase and the impedance: at one frequency, one position after the other. It
 * takes five sixths of a wave to be sure of one whole minimum, half a wave more for two. It cannot see a minimum below its noise, takes harmonics for the tone (they fill the
 * minima), and its result is only as good as the line and its connector. A probe that loads the line and so bends the
 * standing wave is left out, as is where the source does not match: it changes the level alone.
 */
export interface SlottedLine {
	readonly line: LineSection;
	/** Power the probe takes of a wave travelling alone, against that of the wave, dB (negative). */
	readonly couplingDb: number;
}

/** Wavelength on the line at `frequency` Hz, m. */
export const wavelengthOn = (line: LineSection, frequency: number): number =>
	1 / (frequency * delayOf({ ...line, length: 1 }));

/**
 * Adds to `watts` what one tone sends into the detector at every position (m from the load towards the source):
 * coupling·P·|e^(γx) + Γ·e^(−γx)|² with P the wave arriving at the load, `levelDbm` (Pozar, *Microwave Engineering*, 4th ed.,
 * 2012, section 2.3). `load` is a reflection in 50 Ω, whatever the characteristic impedance of the line.
 */
export function addProbed(
	{ line, couplingDb }: SlottedLine,
	load: Complex,
	frequency: number,
	levelDbm: number,
	positions: Reals,
	watts: Reals
): void {
	const gamma = gammaFromImpedance(impedanceFromGamma(load), line.characteristicImpedance);
	const loss = lossOf({ ...line, length: 1 }, frequency);
	const turn = (2 * Math.PI) / wavelengthOn(line, frequency);
	const power = wattsFromDbm(levelDbm) * powerFromDb(couplingDb);
	for (let i = 0; i < watts.length; i++) {
		const way = complex(loss * positions[i], turn * positions[i]);
		const { re, im } = add(exponential(way), multiply(gamma, exponential(negate(way))));
		watts[i] += power * (re * re + im * im);
	}
}

/** What can be read off a standing wave. */
export interface StandingWave {
	readonly highest: number;
	readonly lowest: number;
	/** √(highest/lowest), for a square-law detector; Infinity if the lowest voltage is 0 or less. */
	readonly swr: number;
	/** Where the minima lie, rising, m. */
	readonly minima: readonly number[];
	/** Twice the mean distance of neighbouring minima, m; NaN for fewer than two. */
	readonly wavelength: number;
}

/** Parts of the swing that count as down and as up. */
const DOWN = 0.25;
const UP = 0.75;

/**
 * Reads a standing wave by hand, as it were, from detected voltages (at least two) at rising positions. A minimum lies
 * half way between the places on its two sides where the voltage passes the middle between lowest and highest: there it
 * is steepest, so noise moves them least, and straightest, so few positions are enough. Noise with peaks up to a quarter
 * of the swing makes no false minima; highest and lowest are those of single positions, so noise drives them apart.
 */
export function standingWave(positions: Reals, volts: Reals): StandingWave {
	let [lowest, highest] = [Infinity, -Infinity];
	for (const value of volts) {
		lowest = Math.min(lowest, value);
		highest = Math.max(highest, value);
	}
	const minima = flanks(positions, volts, lowest, highest).flatMap((flank, k, all) =>
		flank.rising && k > 0 ? [(all[k - 1].place + flank.place) / 2] : []
	);
	return {
		highest,
		lowest,
		swr: lowest > 0 ? Math.sqrt(highest / lowest) : Infinity,
		minima,
		wavelength: minima.length < 2 ? NaN : (2 * (minima.at(-1)! - minima[0])) / (minima.length - 1)
	};
}

interface Flank {
	readonly rising: boolean;
	readonly place: number;
}

/** The ways from up to down and from down to up, in turn; the place is the mean of all passages of the middle. */
function flanks(positions: Reals, volts: Reals, lowest: number, highest: number): readonly Flank[] {
	const swing = highest - lowest;
	const middle = lowest + swing / 2;
	const found: Flank[] = [];
	let up: boolean | null = null;
	let begin = 0;
	for (let i = 0; i < volts.length; i++) {
		const here = volts[i] >= lowest + UP * swing ? true : volts[i] <= lowest + DOWN * swing ? false : null;
		if (here === null) continue;
		if (up !== null && here !== up) {
			let [sum, count] = [0, 0];
			for (let k = begin + 1; k <= i; k++) {
				if (volts[k - 1] < middle === volts[k] < middle) continue;
				const share = (middle - volts[k - 1]) / (volts[k] - volts[k - 1]);
				sum += positions[k - 1] + share * (positions[k] - positions[k - 1]);
				count++;
			}
			found.push({ rising: here, place: sum / count });
		}
		up = here;
		begin = i;
	}
	return found;
}

/**
 * Standing-wave ratio from the width `width` of a minimum, between the two places where a square-law detector shows twice its
 * lowest voltage: √(1 + 1/sin²(π·width/λ)) (Ginzton, *Microwave Measurements*, 1957; from memory). For high ratios, where
 * the maximum would drive the detector out of its square law. Width and λ in m; a width above λ/2 does not occur.
 */
export const swrFromWidth = (width: number, wavelength: number): number =>
	Math.sqrt(1 + 1 / Math.sin((Math.PI * width) / wavelength) ** 2);

/** Phase of Γ that a distance along the line stands for, 4π·distance/λ rad: what a step of the scale leaves open. */
export const phaseOf = (distance: number, wavelength: number): number =>
	(4 * Math.PI * distance) / wavelength;

/**
 * From the plane of the load towards the source to the first minimum, m, 0 … λ/2: how far a minimum with the load lies
 * beyond one with a short in place of it. Any minimum of either does, as they repeat every half wave.
 */
export function distanceToMinimum(loadMinimum: number, shortMinimum: number, wavelength: number): number {
	const half = wavelength / 2;
	const distance = (loadMinimum - shortMinimum) % half;
	return distance < 0 ? distance + half : distance;
}

/**
 * Γ of the load, in the impedance of the line, from the standing-wave ratio and the distance from its plane to the first
 * minimum: |Γ| = (S − 1)/(S + 1), phase π + 4π·distance/λ (Pozar, *Microwave Engineering*, 4th ed., 2012, section 2.4). Of a
 * lossless line; a lossy one shows less than |Γ|. Infinity stands for |Γ| = 1. With `impedanceFromGamma` it is an impedance.
 */
export const gammaFromMinimum = (swr: number, distance: number, wavelength: number): Complex =>
	polar(swr === Infinity ? 1 : (swr - 1) / (swr + 1), Math.PI + phaseOf(distance, wavelength));
