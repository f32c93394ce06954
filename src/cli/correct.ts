import { basename } from 'node:path';
import { at } from '#lib/numeric/complex.ts';
import { OK } from './command.ts';
import type { Command } from './command.ts';
import { readText } from './files.ts';
import { pairs } from './plain.ts';
import { correctReadings, readRawReadings } from './raw-readings.ts';
import { fixed, impedanceWords, frequencyWords } from './words.ts';

export const correct: Command = {
	name: 'correct',
	takes: 'RAW.json',
	summary: 'calibrates and corrects raw readings from a file',
	details: [
		'RAW.json holds {"frequencies_hz": […], "standards": {"open_c": F, "short_l": H, "load_r": ohm, "load_l": H},',
		'"raw": {"open": [[re, im], …], "short": …, "load": …, "any name": …}, "z0_ohm": 50}. z0_ohm may be left out;',
		'other keys are ignored. Every raw reading that is no standard is corrected with the three that are.',
		'With --json: {"frequencies_hz": […], "gamma": {"any name": [[re, im], …]}}; otherwise a table for each.'
	],
	options: [],
	async perform({ files: [file], options }, terminal) {
		const readings = readRawReadings(await readText(file), basename(file));
		const corrected = correctReadings(readings);
		const { frequencies_hz, z0_ohm } = readings;
		if (corrected.size === 0)
			terminal.note(`faint-echo: ${file}: only the three standards are there; nothing was left to correct.`);
		if (options.has('json')) {
			const gamma = Object.fromEntries([...corrected].map(([name, values]) => [name, pairs(values)]));
			terminal.print(JSON.stringify({ frequencies_hz, gamma }));
			return OK;
		}
		for (const [name, values] of corrected) {
			terminal.print(`${name}, reflection coefficient against ${z0_ohm} Ω`);
			frequencies_hz.forEach((frequency, i) => {
				const gamma = at(values, i);
				const parts = [gamma.re, gamma.im].map((value) => fixed(value, 6).padStart(10)).join(' ');
				terminal.print(`  ${frequencyWords(frequency)}  ${parts}  ${impedanceWords(gamma, z0_ohm)}`);
			});
		}
		return OK;
	}
};
