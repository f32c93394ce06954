import type { Picture, PictureMarker } from '#lib/bench/picture.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { impedanceWords, megahertz, OUTSIDE_BAND, swrWords, withUnit } from './words.ts';

const effective = ({ effectiveAverages }: Picture): string => String(Number(effectiveAverages.toFixed(1)));

function calibrationWords({ correction }: Picture): string {
	if (correction.kind === 'none') return 'none, the readings are not corrected';
	const fit = {
		same: '',
		interpolated: ', interpolated between its frequencies',
		outside: ', part of the sweep lies outside its frequencies'
	};
	return `${correction.id} at plane ${correction.plane}${fit[correction.fit]}`;
}

/** The settings a reading was taken with, a line each, for the comments of a file. */
export function settingsLines(
	{ name, seed, source, receiver, device, processing }: Setup,
	picture: Picture
): string[] {
	const { delay, loss } = processing.extension;
	const lines = [
		`${name}: a simulated reading`,
		`Device: ${device.name}`,
		`Seed ${seed}, ${picture.sweepsTaken} sweeps from sweep ${picture.firstSweep}, effective averages ${effective(picture)}`,
		`Source ${formatQuantity(source.level, 'level')}, bandwidth ${formatQuantity(receiver.bandwidth, 'frequency')}`,
		`Calibration: ${calibrationWords(picture)}`,
		`Port extension ${formatQuantity(delay, 'time')}, ${formatQuantity(loss, 'attenuation')}`
	];
	return picture.deviceOutsideBand ? [...lines, OUTSIDE_BAND] : lines;
}

function markerLine({ reading, levels }: PictureMarker): string {
	const arriving = levels.outgoing[levels.outgoing.length - 1];
	return [
		`${reading.place.padEnd(6)}  ${megahertz(reading.frequency)}`,
		impedanceWords(reading.gamma),
		`return loss ${withUnit(reading.returnLossDb, 2, 'dB')}`,
		swrWords(reading.swr),
		`${withUnit(arriving, 1, 'dBm')} at the device`
	].join('  ');
}

/** The three markers in words; a single frequency is one marker. */
export const markerLines = ({ frequencies, markers }: Picture): string[] =>
	(frequencies.length === 1 ? [markers[1]] : markers).map(markerLine);
