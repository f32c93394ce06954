import { basename } from 'node:path';
import { inPositions } from '#lib/circuit/positions.ts';
import type { Positions } from '#lib/circuit/positions.ts';
import { readReferenceForm } from '#lib/circuit/reference-form.ts';
import type { Analysis, ReferenceCircuit } from '#lib/circuit/reference-form.ts';
import { runAnalyses } from '#lib/circuit/results.ts';
import type { Results } from '#lib/circuit/results.ts';
import { readNetlistFile } from '#lib/files/netlist-file.ts';
import { Fault } from '#lib/fault.ts';
import { quantityOption, quantityTyped, wholeOption } from './arguments.ts';
import { thermalNoise } from './circuit-noise.ts';
import { circuitLines, isConverged } from './circuit-words.ts';
import { FALLS_SHORT, OK } from './command.ts';
import type { Arguments, Command } from './command.ts';
import { faults } from './faults.ts';
import { readText } from './files.ts';

const LOWEST_FREQUENCY = 1;
const HIGHEST_FREQUENCY = 100e9;
const LOWEST_LEVEL = -150;
const HIGHEST_LEVEL = 40;
const MOST_POINTS = 10001;
const MOST_DRIVEN = 20000;
/** Milliseconds between two reports. */
const REPORT = 500;

const frequencyRange = {
	command: 'circuit',
	kind: 'frequency',
	from: LOWEST_FREQUENCY,
	to: HIGHEST_FREQUENCY
} as const;

/** The frequencies asked for, or undefined when none are. */
function gridAsked(given: Arguments): { start: number; stop: number; points: number } | undefined {
	const start = quantityOption(given, 'from', frequencyRange);
	const stop = quantityOption(given, 'to', frequencyRange) ?? start;
	const points = wholeOption(given, 'points', { command: 'circuit', from: 1, to: MOST_POINTS });
	if (start === undefined || stop === undefined) {
		const other = ['to', 'points', 'drive'].find((option) => given.options.has(option));
		if (other !== undefined)
			throw faults['command-line-alone']({ command: 'circuit', option: other, other: 'from' });
		return undefined;
	}
	if (points !== undefined && points > 1 && !given.options.has('to'))
		throw faults['command-line-alone']({ command: 'circuit', option: 'points', other: 'to' });
	return { start, stop, points: start === stop ? 1 : (points ?? 21) };
}

/** `-20 dBm` or `-60..0 dBm` as levels, the second of them always there. */
function levelsAsked(given: Arguments): readonly number[] | undefined {
	const found = given.options.get('drive');
	const step = quantityOption(given, 'step', {
		command: 'circuit',
		kind: 'attenuation',
		from: 0.001,
		to: 200
	});
	if (found === undefined) {
		if (step !== undefined)
			throw faults['command-line-alone']({ command: 'circuit', option: 'step', other: 'drive' });
		return undefined;
	}
	const ends = found.split('..').map((word) => quantityTyped(word, 'level', 'command circuit, --drive'));
	const [lowest, highest = lowest] = ends;
	if (ends.length === 2 && highest < lowest)
		throw faults['command-line-levels-order']({
			command: 'circuit',
			option: 'drive',
			found: found.slice(0, 60),
			example: `${highest}..${lowest}dBm`
		});
	if (ends.length > 2)
		throw faults['command-line-levels']({ command: 'circuit', option: 'drive', found: found.slice(0, 60) });
	if (lowest < LOWEST_LEVEL || highest > HIGHEST_LEVEL)
		throw faults['command-line-quantity']({
			command: 'circuit',
			option: 'drive',
			found: found.slice(0, 60),
			from: `${LOWEST_LEVEL} dBm`,
			to: `${HIGHEST_LEVEL} dBm`
		});
	const by = step ?? 5;
	const whole = Math.floor((highest - lowest) / by + 1e-9);
	const levels = Array.from({ length: Math.min(whole, MOST_DRIVEN) + 1 }, (_, i) => lowest + i * by);
	return highest - levels[levels.length - 1] > 1e-9 * by ? [...levels, highest] : levels;
}

/** The analyses the options ask for; none without `--from`. */
function analysesAsked(given: Arguments): readonly Analysis[] {
	const grid = gridAsked(given);
	const levels = levelsAsked(given);
	if (grid === undefined) return [];
	const small: Analysis = { type: 'ac', name: 'small_signal', freqs_hz: grid, set: {} };
	if (levels === undefined) return [small];
	const { start, stop, points } = grid;
	if (points * levels.length > MOST_DRIVEN)
		throw faults['command-line-points']({
			command: 'circuit',
			found: points * levels.length,
			allowed: MOST_DRIVEN
		});
	const freqs_hz = Array.from({ length: points }, (_, i) =>
		points === 1 ? start : start + ((stop - start) * i) / (points - 1)
	);
	return [small, { type: 'tran', name: 'drive', freqs_hz, dbm: [...levels], set: {} }];
}

function parsedJson(text: string, file: string): unknown {
	try {
		return JSON.parse(text);
	} catch (error) {
		throw faults['circuit-json']({ file, problem: error instanceof Error ? error.message : String(error) });
	}
}

/** `supply=off,path=transmit` as positions of switches. */
function positionsAsked(given: Arguments): Positions {
	const positions = new Map<string, string>();
	for (const part of given.options.get('set')?.split(',') ?? []) {
		const [name, position, ...more] = part.split('=').map((word) => word.trim());
		if (!name || !position || more.length > 0)
			throw faults['command-line-set']({ command: 'circuit', found: part.slice(0, 60) });
		if (positions.has(name))
			throw faults['command-line-twice']({ command: 'circuit', option: `set ${name.slice(0, 60)}` });
		positions.set(name, position);
	}
	return Object.fromEntries(positions);
}

interface NamedCircuit extends ReferenceCircuit {
	readonly title: string;
}

/** The circuit of a file with the analyses the file or the options ask for. */
async function openCircuit(path: string, given: Arguments): Promise<NamedCircuit> {
	const text = await readText(path);
	const file = basename(path);
	const analyses = analysesAsked(given);
	const positions = positionsAsked(given);
	const data = /\.json$/i.test(path) ? parsedJson(text, file) : undefined;
	const isOurs =
		data === undefined || (typeof data === 'object' && data !== null && 'faint echo netlist' in data);
	if (isOurs) {
		const { name, netlist } = readNetlistFile(text, file);
		if (analyses.length === 0)
			throw faults['command-line-missing']({
				command: 'circuit',
				option: 'from',
				why: ', and a netlist file does not say where to solve the circuit',
				example: '160MHz'
			});
		return {
			title: [name, ...Object.entries(positions).map((set) => set.join(' '))].join(', '),
			netlist: inFile(path, () => inPositions(netlist, positions)),
			analyses
		};
	}
	const read = inFile(path, () => readReferenceForm(data));
	inFile(path, () => inPositions(read.netlist, positions));
	if (analyses.length === 0 && read.analyses.length === 0)
		throw faults['command-line-missing']({
			command: 'circuit',
			option: 'from',
			why: ', and the file asks for no analysis',
			example: '160MHz'
		});
	return { title: file, netlist: read.netlist, analyses: analyses.length > 0 ? analyses : read.analyses };
}

/** A circuit's own faults name the element; here the file is named as well. */
function inFile<T>(path: string, work: () => T): T {
	try {
		return work();
	} catch (fault) {
		if (!(fault instanceof Fault) || !fault.place.startsWith('circuit')) throw fault;
		throw new Fault(fault.code, `${basename(path)}, ${fault.place}`, fault.finding, fault.remedy);
	}
}

const NOT_CONVERGED =
	'faint-echo: Not every driven point was solved. Try a lower level, a smaller --step or more --harmonics.';

const allConverged = (results: Results): boolean =>
	Object.values(results).every((result) => !Array.isArray(result) || result.every(isConverged));

export const circuit: Command = {
	name: 'circuit',
	takes: 'NETLIST',
	summary: 'solves the circuit of a front end: small signal, and driven by one tone',
	details: [
		'Scattering parameters at 50 Ω, input impedance, gain and direct currents and voltages over frequency; with --drive',
		'also at every level of the source, with the harmonics and iterations each point took. A point that does not',
		'converge says so, and the exit code is then 1.',
		'NETLIST is a netlist file (*.netlist.yaml), or a .json file of elements by letter that brings its own analyses;',
		'results stored in such a file are not looked at.',
		'The thermal noise that leaves port 1 is that of resistors and losses at 290 K; devices add theirs to it.',
		'With --json: {"results": {analysis: a table by frequency, or a list of driven points}, "thermal_noise": {analysis:',
		'{"freqs_hz", "port_1_dbm_per_hz"}}}; null is no noise at all.'
	],
	options: [
		{
			name: 'from',
			value: 'F',
			quantity: 'frequency',
			meaning: 'the lowest frequency, such as 160MHz; a number alone is in Hz'
		},
		{
			name: 'to',
			value: 'F',
			quantity: 'frequency',
			meaning: 'the highest frequency; the lowest alone if not given'
		},
		{ name: 'points', value: 'N', meaning: `how many frequencies, 1 to ${MOST_POINTS}; 21 if not given` },
		{
			name: 'drive',
			value: 'LEVELS',
			quantity: 'level',
			meaning: 'levels of the source into 50 Ω, such as -20dBm or -60..0dBm'
		},
		{
			name: 'step',
			value: 'DB',
			quantity: 'attenuation',
			meaning: 'from one level to the next; 5 dB if not given'
		},
		{
			name: 'harmonics',
			value: 'N',
			meaning: 'harmonics to solve for, 2 to 64; as many as a point needs if not given'
		},
		{
			name: 'set',
			value: 'SWITCHES',
			meaning: 'positions of switches of the netlist file, such as supply=off or supply=on,path=transmit'
		}
	],
	async perform(given, terminal) {
		const [path] = given.files;
		const harmonics = wholeOption(given, 'harmonics', { command: 'circuit', from: 2, to: 64 });
		const { title, ...read } = await openCircuit(path, given);
		// a circuit that brings its own analyses takes the option for those that are driven
		if (harmonics !== undefined && given.options.has('from') && !given.options.has('drive'))
			throw faults['command-line-alone']({ command: 'circuit', option: 'harmonics', other: 'drive' });
		let reported = performance.now();
		const report = (analysis: string, done: number): void => {
			if (done === 1 || performance.now() - reported < REPORT) return;
			reported = performance.now();
			terminal.note(`solving ${analysis}: ${Math.round(100 * done)} %`);
		};
		const results = inFile(path, () => runAnalyses(read, { harmonics, report }));
		const noise = inFile(path, () => thermalNoise(read, results));
		terminal.print(
			given.options.has('json')
				? JSON.stringify({ results, thermal_noise: noise })
				: [title, ...circuitLines(read.netlist, results, noise)].join('\n')
		);
		if (allConverged(results)) return OK;
		terminal.note(NOT_CONVERGED);
		return FALLS_SHORT;
	}
};
