import { MOST_AVERAGES } from '#lib/bench/setup.ts';
import { wholeOption } from './arguments.ts';
import { FALLS_SHORT, OK } from './command.ts';
import type { Command } from './command.ts';
import { writeText } from './files.ts';
import { openBench } from './open-file.ts';
import { readingData, readingWriter } from './reading-files.ts';
import { readingHolds, readingLimits } from './reading-limits.ts';
import { markerLines, settingsLines } from './reading-words.ts';
import { takeReading, withWishes } from './reading.ts';

const LARGEST_SEED = 4294967295;

export const sweep: Command = {
	name: 'sweep',
	takes: 'BENCH',
	summary: 'simulates readings of a bench file and averages them',
	details: [
		'Prints the averaged reading at the reference plane at three markers: the two edges of the sweep and its centre.',
		'The bench file is not changed. The same file, seed and number of sweeps always give the same reading.',
		'What makes a reading not hold is said, and the exit code is then 1: a part is damaged or breaks at this level, the',
		'level is over the ceiling of the device, the line has changed since it was calibrated, or there is no reading.',
		'With --json: {"holds", "damage": […], "over_ceiling_db", "silence", "lost", "line_changed", "settings",',
		'"frequencies_hz", "gamma": [[re, im], …], "markers", "levels"}; null is none, in a reading infinite or not defined.'
	],
	options: [
		{
			name: 'sweeps',
			value: 'N',
			meaning: `how many sweeps to average, 1 to ${MOST_AVERAGES}; the bench's averages if not given`
		},
		{
			name: 'seed',
			value: 'S',
			meaning: `the seed of the noise, 0 to ${LARGEST_SEED}; the bench's own if not given`
		},
		{ name: 'out', value: 'FILE', meaning: 'write all frequencies to FILE, ending in .s1p, .csv or .json' }
	],
	async perform(given, terminal) {
		const [file] = given.files;
		const sweeps = wholeOption(given, 'sweeps', { command: 'sweep', from: 1, to: MOST_AVERAGES });
		const seed = wholeOption(given, 'seed', { command: 'sweep', from: 0, to: LARGEST_SEED });
		const out = given.options.get('out');
		const writer = out === undefined ? undefined : readingWriter(out);
		const document = withWishes(await openBench(file), sweeps, seed);
		const picture = takeReading(document, (done) => terminal.note(`sweeping: ${Math.round(100 * done)} %`));
		if (out !== undefined && writer !== undefined) {
			await writeText(out, writer(document, picture), file);
			terminal.note(`written: ${out}`);
		}
		const text = given.options.has('json')
			? JSON.stringify(readingData(document, picture))
			: [...settingsLines(document, picture), ...markerLines(picture)].join('\n');
		terminal.print(text);
		return readingHolds(readingLimits(document, picture)) ? OK : FALLS_SHORT;
	}
};
