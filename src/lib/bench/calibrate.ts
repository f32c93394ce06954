import type { ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { looking } from '#lib/network/two-port.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import type { MeasuredStandard } from '#lib/reflectometer/calibration.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';
import type { StandardName } from '#lib/reflectometer/standards.ts';
import { averagedRawSlices } from '#lib/reflectometer/sweep.ts';
import type { Calibration } from './calibrations.ts';
import { partsTwoPort, sweepFrequencies } from './plant.ts';
import { floorShares, rawReading, receiverNoise, sourceLevels } from './reflectometer.ts';

/** Error terms and the frequencies they were found at. */
export interface SolvedCalibration {
	readonly frequencies: Reals;
	readonly terms: ErrorTerms;
}

/**
 * Makes the readings of a calibration again from its events, noise and all, and solves the error terms. Whatever error
 * is in those readings is in the terms, and stays in every reading corrected with them.
 * Yields every few milliseconds.
 */
export function* solveCalibration(calibration: Calibration): Generator<number, SolvedCalibration, undefined> {
	const { setup, standards } = calibration;
	const { source, receiver } = setup;
	const frequencies = sweepFrequencies(setup.sweep);
	const chain = partsTwoPort(setup.parts, frequencies);
	const port = portErrorTerms(setup.port, frequencies);
	const noise = receiverNoise(setup);
	const levels = sourceLevels(source, setup.seed, frequencies);
	const measured: Partial<Record<StandardName, MeasuredStandard>> = {};
	for (const event of standards) {
		const known: ComplexArray = standardGamma(event.standard, setup.standards, frequencies);
		const noiseless = rawReading(
			port,
			receiver.leakage,
			receiver.compression,
			levels,
			looking(chain, known),
			frequencies
		);
		const floor = floorShares(receiver.floor, receiver.referenceFloor, source.level, levels, noiseless);
		measured[event.standard] = { known, raw: yield* averagedRawSlices(noiseless, noise, event, floor) };
	}
	const { open, short, load } = measured as Record<StandardName, MeasuredStandard>;
	return { frequencies, terms: solveThreeTerms([open, short, load], frequencies) };
}
