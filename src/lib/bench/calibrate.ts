import type { ComplexArray } from '#lib/numeric/complex.ts';
import { streamOf } from '#lib/numeric/random.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { chainOf, looking } from '#lib/network/two-port.ts';
import { solveThreeTerms } from '#lib/reflectometer/calibration.ts';
import type { MeasuredStandard } from '#lib/reflectometer/calibration.ts';
import { rawFromGamma } from '#lib/reflectometer/correction.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import type { ErrorTerms } from '#lib/reflectometer/error-terms.ts';
import { floorDeviation, traceDeviation } from '#lib/reflectometer/noise.ts';
import { standardGamma } from '#lib/reflectometer/standards.ts';
import type { StandardName } from '#lib/reflectometer/standards.ts';
import { averagedRawSlices } from '#lib/reflectometer/sweep.ts';
import type { ReadingNoise } from '#lib/reflectometer/sweep.ts';
import type { Calibration } from './calibrations.ts';
import { partTwoPort, sweepFrequencies } from './plant.ts';
import type { Setup } from './setup.ts';

/** Error terms and the frequencies they were found at. */
export interface SolvedCalibration {
	readonly frequencies: Reals;
	readonly terms: ErrorTerms;
}

/** The noise of the receiver as the sweep engine wants it. All readings of a bench share one stream. */
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
 * Makes the readings of a calibration again from its events, noise and all, and solves the error terms. Whatever error
 * is in those readings is in the terms, and stays in every reading corrected with them.
 * Yields every few milliseconds.
 */
export function* solveCalibration(calibration: Calibration): Generator<number, SolvedCalibration, undefined> {
	const { setup, standards } = calibration;
	const frequencies = sweepFrequencies(setup.sweep);
	const chain = chainOf(
		setup.parts.map((p) => partTwoPort(p, frequencies)),
		frequencies.length
	);
	const port = portErrorTerms(setup.port, frequencies);
	const noise = receiverNoise(setup);
	const measured: Partial<Record<StandardName, MeasuredStandard>> = {};
	for (const event of standards) {
		const known: ComplexArray = standardGamma(event.standard, setup.standards, frequencies);
		const noiseless = rawFromGamma(port, looking(chain, known));
		measured[event.standard] = { known, raw: yield* averagedRawSlices(noiseless, noise, event) };
	}
	const { open, short, load } = measured as Record<StandardName, MeasuredStandard>;
	return { frequencies, terms: solveThreeTerms([open, short, load], frequencies) };
}
