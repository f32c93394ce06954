import type { BenchDocument } from '#lib/bench/command.ts';
import { Compiler } from '#lib/bench/compile.ts';
import { asItStands, damageOf } from '#lib/bench/damage.ts';
import { frontEndEquations } from '#lib/bench/front-end.ts';
import { sweepFrequencies } from '#lib/bench/plant.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { twoPortAt } from '#lib/network/device.ts';
import type { NetworkData } from '#lib/network/network-data.ts';
import { at } from '#lib/numeric/complex.ts';
import { OK } from './command.ts';
import type { Command } from './command.ts';
import { openFile } from './open-file.ts';
import { pair, pairs } from './plain.ts';
import type { Pair } from './plain.ts';
import { OUTSIDE_BAND } from './words.ts';

type Matrix = readonly [readonly [Pair, Pair], readonly [Pair, Pair]];

/** Scattering parameters at 50 Ω, in Hz; `s` an entry a frequency. `gamma` is there for a bench only. */
interface Truth {
	readonly ports: 1 | 2;
	readonly frequencies_hz: readonly number[];
	readonly s: readonly Pair[] | readonly Matrix[];
	/** What the device presents at its connector, with what the bench has at its output, to a level too small to move it. */
	readonly gamma?: readonly Pair[];
	/** The same at the level the bench is set to; null where no state of the device is found. */
	readonly driven?: readonly (Pair | null)[];
}

/** The truth about a file's network, at the file's own frequencies. */
function truthOfData({ ports, frequencies, s }: NetworkData): Truth {
	const entry = (row: number, k: number): Pair => [
		s[2 * (row * ports * ports + k)],
		s[2 * (row * ports * ports + k) + 1]
	];
	return {
		ports,
		frequencies_hz: frequencies,
		s:
			ports === 1
				? frequencies.map((_, row) => entry(row, 0))
				: frequencies.map((_, row): Matrix => [
						[entry(row, 0), entry(row, 1)],
						[entry(row, 2), entry(row, 3)]
					])
	};
}

/** The truth about a bench's device, at the frequencies of its sweep, and whether they lie outside its data. */
function truthOfBench(document: BenchDocument): { truth: Truth; outside: boolean } {
	const setup = asItStands(document.setup, damageOf(document.history.events));
	const { device, sweep } = setup;
	const frequencies = sweepFrequencies(sweep);
	const { device: presented } = new Compiler().compile(setup);
	const gamma = pairs(presented.rest);
	const driven = pairs(presented.gamma).map((g) => (Number.isNaN(g[0]) ? null : g));
	const frequencies_hz = Array.from(frequencies);
	if (device.kind === 'circuit') {
		// the first two ports: what a transmitter is connected to is ended in 50 Ω
		const s = smallSignal(frontEndEquations(device), frequencies);
		if (s.length === 1)
			return { truth: { ports: 1, frequencies_hz, s: pairs(s[0][0]), gamma, driven }, outside: false };
		const rows = frequencies_hz.map((_, i): Matrix => [
			[pair(at(s[0][0], i)), pair(at(s[0][1], i))],
			[pair(at(s[1][0], i)), pair(at(s[1][1], i))]
		]);
		return { truth: { ports: 2, frequencies_hz, s: rows, gamma, driven }, outside: false };
	}
	if (device.kind !== 'tabulated' || device.data.ports === 1)
		return { truth: { ports: 1, frequencies_hz, s: gamma, gamma }, outside: presented.outside };
	const { s11, s12, s21, s22 } = twoPortAt(device.data, frequencies).twoPort;
	const s = frequencies_hz.map((_, i): Matrix => [
		[pair(at(s11, i)), pair(at(s12, i))],
		[pair(at(s21, i)), pair(at(s22, i))]
	]);
	return { truth: { ports: 2, frequencies_hz, s, gamma }, outside: presented.outside };
}

export const truth: Command = {
	name: 'truth',
	takes: 'BENCH-OR-TOUCHSTONE',
	summary: 'exact answers: the scattering parameters of a device, without any instrument',
	details: [
		'Prints one JSON object, with or without --json: {"ports": n, "frequencies_hz": […], "s": …}, always at 50 Ω.',
		'For one port s has a pair [re, im] a frequency, for two ports [[s11, s12], [s21, s22]] of such pairs.',
		'A Touchstone file is answered at its own frequencies. A bench is answered for its device at the frequencies of',
		'its sweep, and has two keys more for what it presents with what is connected to its output: "gamma", to a level too',
		'small to move it, and for a front end of known circuit "driven", at the level of the bench (null: no state found).'
	],
	options: [],
	async perform({ files: [file] }, terminal) {
		const opened = await openFile(file);
		if (opened.kind === 'touchstone') {
			for (const note of opened.notes) terminal.note(`faint-echo: ${file}: ${note}`);
			terminal.print(JSON.stringify(truthOfData(opened.data)));
			return OK;
		}
		const { truth: answer, outside } = truthOfBench(opened.document);
		if (outside) terminal.note(`faint-echo: ${file}: ${OUTSIDE_BAND}`);
		terminal.print(JSON.stringify(answer));
		return OK;
	}
};
