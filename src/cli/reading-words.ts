import type { BenchDocument } from '#lib/bench/command.ts';
import type { Picture, PictureMarker } from '#lib/bench/picture.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import { limitLines, readingLimits } from './reading-limits.ts';
import { frequencyWords, impedanceWords, OUTSIDE_BAND, swrWords, withUnit } from './words.ts';

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

/** The settings a reading was taken with and what makes it not hold, a line each, for the comments of a file. */
export function settingsLines(document: BenchDocument, picture: Picture): string[] {
	const { name, seed, source, receiver, device, processing } = document.setup;
	const { delay, loss } = processing.extension;
	const lines = [
		`${name}: a simulated reading`,
		`Device: ${device.name}`,
		`Seed ${seed}, ${picture.sweepsTaken} sweeps from sweep ${picture.firstSweep}, effective averages ${effective(picture)}`,
		`Source ${formatQuantity(source.level, 'level')}, bandwidth ${formatQuantity(receiver.bandwidth, 'frequency')}`,
		`Calibration: ${calibrationWords(picture)}`,
		`Port extension ${formatQuantity(delay, 'time')}, ${formatQuantity(loss, 'attenuation')}`
	];
	return [
		...lines,
		...(picture.deviceOutsideBand ? [OUTSIDE_BAND] : []),
		...limitLines(readingLimits(document, picture))
	];
}

function markerLine({ reading, levels }: PictureMarker): string {
	const arriving = levels.outgoing[levels.outgoing.length - 1];
	return [
		`${reading.place.padEnd(6)}  ${frequencyWords(reading.frequency)}`,
		impedanceWords(reading.gamma),
		`return loss ${withUnit(reading.returnLossDb, 2, 'dB')}`,
		swrWords(reading.swr),
		`${withUnit(arriving, 1, 'dBm')} at the device`
	].join('  ');
}

/** The three markers in words; a single frequency is one marker, and without a reading there is none. */
export function markerLines({ frequencies, markers, silence }: Picture): string[] {
	if (silence !== null) return [];
	return (frequencies.length === 1 ? [markers[1]] : markers).map(markerLine);
}
