import { expect, test } from 'vitest';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import { Stage } from '#lib/bench/stage.ts';
import type { BenchDocument, CommandRecord } from '#lib/bench/command.ts';
import { after, blackBoxBench, command, requestFor } from './examples.ts';

/** How often each stage ran for a change of the usual bench, 0 left out. */
function runsOf(start: BenchDocument, ...records: readonly CommandRecord[]): Record<string, number> {
	const simulation = new Simulation();
	simulation.picture(requestFor(start));
	const before = simulation.runs;
	const changed: BenchDocument = after(start, ...records);
	// through a worker everything arrives as a copy
	simulation.picture(structuredClone(requestFor(changed, { revision: 2 })));
	return whole(
		Object.fromEntries(Object.entries(simulation.runs).map(([stage, runs]) => [stage, runs - before[stage]]))
	);
}

/** Without the stages that did not run. */
const whole = (runs: Readonly<Record<string, number>>): Record<string, number> =>
	Object.fromEntries(Object.entries(runs).filter(([, count]) => count > 0));

test('at first every stage runs once', () => {
	const simulation = new Simulation();
	simulation.picture(requestFor(blackBoxBench));
	expect(whole(simulation.runs)).toEqual({
		frequencies: 1,
		'source levels': 1,
		'marker source levels': 1,
		floor: 1,
		chain: 1,
		device: 1,
		port: 1,
		'raw reading': 1,
		extension: 1,
		delays: 1,
		'marker frequencies': 1,
		'marker parts': 1,
		'marker device': 1,
		'source side': 1,
		'black box': 1,
		waves: 1,
		'calibration fit': 1,
		correction: 1,
		calibration: 1
	});
});

/** What a level goes through before it meets the line. */
const LEVELS = { 'source levels': 1, 'marker source levels': 1, floor: 1 };

test.each<[string, CommandRecord, Record<string, number>]>([
	['a copy of the same setup', command('set averages', { averages: 64 }), {}],
	['another number of averages', command('set averages', { averages: 16 }), {}],
	['another bandwidth', command('set bandwidth', { bandwidth: '1 kHz' }), {}],
	['another seed', command('set seed', { seed: 2 }), {}],
	['another name', command('rename bench', { name: 'Mine' }), {}],
	['another plane', command('set extension', { delay: '50 ps' }), { extension: 1, correction: 1 }],
	['another level', command('set level', { level: '-30 dBm' }), { ...LEVELS, 'black box': 1, waves: 1 }],
	[
		'another device',
		command('choose device', { device: '100 ohm load' }),
		{ device: 1, 'marker device': 1, 'raw reading': 1, floor: 1, waves: 1, correction: 1 }
	],
	[
		'another output',
		command('set output', { kind: 'open' }),
		{
			'source side': 1,
			'black box': 1,
			device: 1,
			'marker device': 1,
			'raw reading': 1,
			floor: 1,
			waves: 1,
			correction: 1
		}
	],
	[
		'another pad',
		command('set part', { part: 'pad', attenuation: '10 dB' }),
		{
			chain: 1,
			'source side': 1,
			'black box': 1,
			'marker parts': 1,
			delays: 1,
			'raw reading': 1,
			floor: 1,
			waves: 1,
			correction: 1
		}
	],
	['no calibration', command('use calibration', { calibration: null }), { correction: 1 }],
	[
		'a new calibration',
		command('calibrate', { plane: 2, averages: 4 }),
		{ calibration: 1, 'calibration fit': 1, correction: 1 }
	],
	[
		'another sweep',
		command('set sweep', { points: 101 }),
		{
			...LEVELS,
			frequencies: 1,
			chain: 1,
			'source side': 1,
			'black box': 1,
			device: 1,
			port: 1,
			'raw reading': 1,
			extension: 1,
			'marker frequencies': 1,
			'marker parts': 1,
			'marker device': 1,
			waves: 1,
			'calibration fit': 1,
			correction: 1
		}
	]
])('%s solves again only what depends on it', (_, record, wanted) => {
	expect(runsOf(blackBoxBench, record)).toEqual(wanted);
});

// A front end of known circuit: another level drives it anew and works out nothing else of it; averages and plane drive
// nothing; only what changes the circuit or its line makes its linear part and its drive curves again.
const DRIVEN = {
	'driven device': 1,
	'driven stability': 1,
	'marker driven device': 1,
	'raw reading': 1,
	waves: 1,
	correction: 1
};
const LINEAR = {
	stability: 1,
	'linear part': 1,
	'marker linear part': 1,
	'device at rest': 1,
	'marker device at rest': 1,
	'drive curves': 1
};
test.each<[string, CommandRecord, Record<string, number>]>([
	['another number of averages', command('set averages', { averages: 16 }), {}],
	['another plane', command('set extension', { delay: '50 ps' }), { extension: 1, correction: 1 }],
	['another level', command('set level', { level: '-30 dBm' }), { ...DRIVEN, ...LEVELS }],
	[
		'another pad',
		command('set part', { part: 'pad', attenuation: '10 dB' }),
		{
			...DRIVEN,
			...LINEAR,
			floor: 1,
			chain: 1,
			delays: 1,
			'marker parts': 1,
			'source side': 1,
			'marker source side': 1
		}
	],
	[
		'the supply off',
		command('set switch', { switch: 'supply', position: 'off' }),
		{ ...DRIVEN, ...LINEAR, floor: 1, circuit: 1, 'marker circuit': 1 }
	]
])('%s of a front end solves again only what depends on it', (_, record, wanted) => {
	expect(runsOf(defaultBench, record)).toEqual(wanted);
});

test('with every stage remembered, more averages still mean other sweeps', () => {
	const simulation = new Simulation();
	const few = simulation.picture(requestFor(blackBoxBench, { sweeps: 4 }));
	const many = simulation.picture(requestFor(blackBoxBench, { sweeps: 64 }));
	expect(many.sweepsTaken).toBe(64);
	expect([...many.displayed.re]).not.toEqual([...few.displayed.re]);
	expect(many.expected).toEqual(few.expected);
});

test('a stage runs again only for other inputs, and remembers one answer', () => {
	const stage = new Stage('sum', (a: number, b: number) => ({ sum: a + b }));
	const first = stage.of(1, 2);
	expect(stage.of(1, 2)).toBe(first);
	expect(stage.of(2, 2)).toEqual({ sum: 4 });
	expect(stage.of(1, 2)).not.toBe(first);
	expect(stage.of(NaN, 2)).toBe(stage.of(NaN, 2));
	expect(stage.runs).toBe(4);
});
