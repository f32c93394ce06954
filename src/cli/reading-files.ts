import { extname } from 'node:path';
import type { BenchDocument } from '#lib/bench/command.ts';
import type { LevelDiagram, Picture, PictureMarker } from '#lib/bench/picture.ts';
import { writeCsv } from '#lib/files/csv.ts';
import { writeTouchstone } from '#lib/files/touchstone-writer.ts';
import { impedanceFromGamma, returnLossDb, swr } from '#lib/network/impedance.ts';
import { at, magnitude } from '#lib/numeric/complex.ts';
import { faults } from './faults.ts';
import { pair, pairs } from './plain.ts';
import { limitData, readingLimits } from './reading-limits.ts';
import { settingsLines } from './reading-words.ts';

const markerData = ({ reading }: PictureMarker) => ({
	place: reading.place,
	frequency_hz: reading.frequency,
	gamma: pair(reading.gamma),
	resistance_ohm: reading.impedance.re,
	reactance_ohm: reading.impedance.im,
	return_loss_db: reading.returnLossDb,
	swr: reading.swr,
	spread_single: reading.spreadSingle,
	spread_average: reading.spreadAverage
});

const levelData = (place: string, levels: LevelDiagram) => ({
	place,
	outgoing_dbm: levels.outgoing,
	returning_dbm: levels.returning,
	ceiling_dbm: levels.ceiling,
	floor_single_dbm: levels.floorSingle,
	floor_dbm: levels.floor,
	ceiling_margin_db: levels.ceilingMargin,
	floor_margin_db: levels.floorMargin
});

/** A reading as plain data for other programs: units are in the keys, what is infinite becomes null. */
export const readingData = ({ setup, history }: BenchDocument, picture: Picture) => ({
	...limitData(readingLimits({ setup, history }, picture)),
	settings: {
		bench: setup.name,
		device: setup.device.name,
		seed: setup.seed,
		sweeps: picture.sweepsTaken,
		first_sweep: picture.firstSweep,
		effective_averages: picture.effectiveAverages,
		level_dbm: setup.source.level,
		bandwidth_hz: setup.receiver.bandwidth,
		calibration: picture.correction.kind === 'none' ? null : picture.correction.id,
		calibration_plane: picture.correction.kind === 'none' ? null : picture.correction.plane,
		calibration_fit: picture.correction.kind === 'none' ? null : picture.correction.fit,
		extension_s: setup.processing.extension.delay,
		extension_loss_db: setup.processing.extension.loss,
		device_outside_band: picture.deviceOutsideBand
	},
	frequencies_hz: Array.from(picture.frequencies),
	gamma: pairs(picture.displayed),
	markers: picture.markers.map(markerData),
	levels: picture.markers.map(({ reading, levels }) => levelData(reading.place, levels))
});

function touchstone(document: BenchDocument, picture: Picture): string {
	const data = {
		ports: 1 as const,
		frequencies: Array.from(picture.frequencies),
		s: pairs(picture.displayed).flat()
	};
	return writeTouchstone(data, { format: 'RI', unit: 'Hz', comments: settingsLines(document, picture) });
}

function csv(document: BenchDocument, picture: Picture): string {
	const { frequencies, displayed } = picture;
	const gammas = Array.from(frequencies, (_, i) => at(displayed, i));
	const impedances = gammas.map((gamma) => impedanceFromGamma(gamma));
	return writeCsv(
		[
			{ name: 'frequency', unit: 'Hz', values: frequencies },
			{ name: 'reflection real', unit: '', values: displayed.re },
			{ name: 'reflection imaginary', unit: '', values: displayed.im },
			{ name: 'resistance', unit: 'Ω', values: impedances.map(({ re }) => re) },
			{ name: 'reactance', unit: 'Ω', values: impedances.map(({ im }) => im) },
			{ name: 'return loss', unit: 'dB', values: gammas.map((gamma) => returnLossDb(magnitude(gamma))) },
			{ name: 'SWR', unit: '', values: gammas.map((gamma) => swr(magnitude(gamma))) }
		],
		settingsLines(document, picture)
	);
}

const WRITERS: Readonly<Record<string, (document: BenchDocument, picture: Picture) => string>> = {
	'.s1p': touchstone,
	'.csv': csv,
	'.json': (document, picture) => `${JSON.stringify(readingData(document, picture), null, '\t')}\n`
};

/** What writes a file of this name. @throws Fault for an ending nothing is written for. */
export function readingWriter(file: string): (document: BenchDocument, picture: Picture) => string {
	const ending = extname(file).toLowerCase();
	if (!Object.hasOwn(WRITERS, ending)) throw faults['file-ending']({ file });
	return WRITERS[ending];
}
