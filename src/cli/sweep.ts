import { MOST_AVERAGES } from '#lib/bench/setup.ts';
import { wholeOption } from './arguments.ts';
import { OK } from './command.ts';
import type { Command } from './command.ts';
import { writeText } from './files.ts';
import { openBench } from './open-file.ts';
import { readingData, readingWriter } from './reading-files.ts';
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
		'With --json: {"settings", "frequencies_hz", "gamma": [[re, im], …], "markers", "levels"}; null is infinite.'
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
			await writeText(out, writer(document.setup, picture), file);
			terminal.note(`written: ${out}`);
		}
		const text = given.options.has('json')
			? JSON.stringify(readingData(document.setup, picture))
			: [...settingsLines(document.setup, picture), ...markerLines(picture)].join('\n');
		terminal.print(text);
		return OK;
	}
};
