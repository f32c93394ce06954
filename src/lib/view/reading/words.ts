import { formatQuantity } from '#lib/bench/quantity.ts';
import type { Damage } from '#lib/bench/history.ts';
import type { MarkerReading, Picture } from '#lib/bench/picture.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { magnitude } from '#lib/numeric/complex.ts';
import { positionWords } from '#lib/view/line/device-function.ts';
import {
	fixed,
	frequency,
	impedance,
	NO_BREAK_SPACE,
	picoseconds,
	returnLoss,
	shown,
	significant,
	sizeAndAngle,
	standingWaveRatio,
	whole,
	withUnit
} from '#lib/view/numbers.ts';
import { verdict } from './verdict.ts';

/** What an average is worth: '16 readings', or '3.4 readings' for a short exponential one. */
function worth(effective: number): string {
	const number = Number.isInteger(effective) || effective >= 10 ? whole(effective) : fixed(effective, 1);
	return number === '1' ? 'one reading' : `${number} readings`;
}

/** The spread of single readings and of the average, in words. */
export function spreadWords(picture: Picture, reading: MarkerReading): string {
	if (Number.isNaN(reading.gamma.re)) return 'Spread: none, since there is no reading.';
	if (reading.spreadSingle === null || reading.spreadAverage === null)
		return 'Spread: known after three sweeps.';
	return (
		`Spread of Γ, 95${NO_BREAK_SPACE}% within ${significant(reading.spreadSingle)} for single readings and ` +
		`${significant(reading.spreadAverage)} for the average, worth ${worth(picture.effectiveAverages)}.`
	);
}

/** A reading with its settings and time, as one paragraph for the notebook. */
export function readingForNotebook(
	setup: Setup,
	picture: Picture,
	marker: 0 | 1 | 2,
	revealed: boolean,
	damage: readonly Damage[] = []
): string {
	const { reading } = picture.markers[marker];
	const size = magnitude(reading.gamma);
	const { correction, sweepsTaken, firstSweep } = picture;
	const { delay } = setup.processing.extension;
	const corrected =
		correction.kind === 'none'
			? 'not corrected'
			: `calibrated at plane ${correction.plane}${delay === 0 ? '' : `, extension ${picoseconds(delay)}`}`;
	const settings = [
		`source ${shown(formatQuantity(setup.source.level, 'level'))}`,
		`bandwidth ${shown(formatQuantity(setup.receiver.bandwidth, 'frequency'))}`,
		`average worth ${worth(picture.effectiveAverages)}`,
		corrected,
		...(setup.device.kind === 'circuit' ? positionWords(setup.device) : [])
	].join(', ');
	const sweeps =
		sweepsTaken === 1
			? `Sweep ${whole(firstSweep)}`
			: `Sweeps ${whole(firstSweep)} to ${whole(firstSweep + sweepsTaken - 1)}`;
	const ratio = standingWaveRatio(reading.swr, size);
	const { clause, also = [] } = verdict(setup, picture, marker, revealed, damage);
	const value =
		`${impedance(reading.impedance)}, Γ ${sizeAndAngle(reading.gamma)}, ` +
		`return loss ${withUnit(returnLoss(reading.returnLossDb), 'dB')}, SWR ${ratio}. ${spreadWords(picture, reading)}`;
	return (
		`${frequency(reading.frequency)}: ${Number.isNaN(reading.gamma.re) ? 'no reading.' : value} ` +
		`${settings[0].toUpperCase()}${settings.slice(1)}. ${sweeps}. ${[clause, ...also].join(' ')}`
	);
}
