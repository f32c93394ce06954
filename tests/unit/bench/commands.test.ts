import { expect, test } from 'vitest';
import { applyPatches } from 'immer';
import type { Patch } from 'immer';
import { Fault } from '#lib/fault.ts';
import { execute } from '#lib/bench/command.ts';
import type { BenchDocument, CommandRecord } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { withDamage } from '#lib/bench/history.ts';
import { after, blackBoxBench, command } from './examples.ts';

const sPort = { ports: 1, frequencies: [1e8, 2e8], s: [0.1, 0.2, 0.3, 0.4] };
const measured = {
	kind: 'tabulated',
	name: 'Mine',
	origin: 'mine.s1p',
	data: sPort,
	ceiling: '-30 dBm',
	compression: null,
	absoluteMaximum: null
};

/** A bench whose preamp has been broken. */
const broken: BenchDocument = {
	...defaultBench,
	history: withDamage(defaultBench.history, {
		part: 'device',
		name: defaultBench.setup.device.name,
		element: 'Q1',
		crossed: { quantity: 'input power', limit: 5, reached: 9.8 },
		frequency: 169.4e6,
		cause: 'source'
	})
};

/** One use at least of every command, what it must have done, and the bench it is used on if not the usual one. */
const uses: [CommandRecord, (setup: Setup) => unknown, unknown, BenchDocument?][] = [
	[command('set level', { level: '-45 dBm' }), (s) => s.source.level, -45],
	[command('set bandwidth', { bandwidth: '1 kHz' }), (s) => s.receiver.bandwidth, 1000],
	[command('set source flaws', { error: '2 dB' }), (s) => s.source, { error: 2, stuck: null }],
	[
		command('set receiver flaws', { compression: '5 dBm' }),
		(s) => s.receiver,
		{ compression: 5, leakage: null }
	],
	[command('set averages', { averages: 16 }), (s) => s.processing.averages, 16],
	[command('set sweep', { points: 11 }), (s) => s.sweep, { start: 169.4e6, stop: 169.65e6, points: 11 }],
	[
		command('set sweep', { start: '160 MHz', stop: '180 MHz' }),
		(s) => s.sweep,
		{ start: 160e6, stop: 180e6, points: 201 }
	],
	[command('set extension', { delay: '100 ps' }), (s) => s.processing.extension, { delay: 1e-10, loss: 0 }],
	[command('set seed', { seed: 7 }), (s) => s.seed, 7],
	[command('rename bench', { name: 'Mine' }), (s) => s.name, 'Mine'],
	[
		command('set part', { part: 'pad', attenuation: '30 dB' }),
		(s) => s.parts[0],
		{ attenuation: 30, network: 'pi' }
	],
	[
		command('set part', { part: 'pad', network: 'tee', resistorErrors: ['1 %', '0 %', '-1 %'] }),
		(s) => s.parts[0],
		{ attenuation: 20, network: 'tee', resistorErrors: [0.01, 0, -0.01] }
	],
	[command('set part', { part: 'cable', length: '3 m' }), (s) => s.parts[1], { length: 3 }],
	[
		command('set part', { part: 'adapter', impedance: '37.5 ohm' }),
		(s) => s.parts[2],
		{ sections: [{ impedance: 37.5, length: 0.008604, velocityFactor: 0.7 }] }
	],
	[
		command('add part', { kind: 'pad', after: 'reflectometer' }),
		(s) => s.parts.map((p) => p.id),
		['pad-2', 'pad', 'cable', 'adapter']
	],
	[
		command('add part', { kind: 'cable', after: 'pad' }),
		(s) => s.parts.map((p) => p.id),
		['pad', 'cable-2', 'cable', 'adapter']
	],
	[command('remove part', { part: 'cable' }), (s) => s.parts.map((p) => p.id), ['pad', 'adapter']],
	[
		command('replace part', { part: 'cable', kind: 'pad' }),
		(s) => s.parts.map((p) => p.id),
		['pad', 'pad-2', 'adapter']
	],
	[
		command('choose device', { device: '100 ohm load' }),
		(s) => s.device,
		{ kind: 'impedance', resistance: 100 }
	],
	[
		command('set device', { resistance: '25 ohm', reactance: '-50 ohm' }),
		(s) => s.device,
		{ kind: 'impedance', name: '25 − j50 Ω load', resistance: 25, reactance: -50 }
	],
	[
		command('import device', { device: measured }),
		(s) => s.device,
		{ name: 'Mine', data: sPort, ceiling: -30 }
	],
	[command('set ceiling', { ceiling: '-50 dBm' }), (s) => s.device, { ceiling: -50 }, blackBoxBench],
	[command('set ceiling', { ceiling: null }), (s) => s.device, { ceiling: null }, blackBoxBench],
	[command('set ceiling change', { change: 0.02 }), (s) => s.device, { ceilingChange: 0.02 }],
	[
		command('set switch', { switch: 'supply', position: 'off' }),
		(s) => s.device,
		{ positions: { supply: 'off' } }
	],
	[command('renew part', { part: 'device' }), (s) => s, defaultBench.setup, broken],
	[command('set output', { kind: 'open' }), (s) => s.output, { kind: 'open' }],
	[
		command('set output', { kind: 'impedance', resistance: '75 ohm', reactance: '0 ohm' }),
		(s) => s.output,
		{ kind: 'impedance', resistance: 75, reactance: 0 }
	],
	[command('calibrate', { plane: 3, averages: 4 }), (s) => s.processing.calibration, 'calibration-2'],
	[command('use calibration', { calibration: null }), (s) => s.processing.calibration, null]
];

test('every command of the table is tried here', () => {
	expect(new Set(uses.map(([record]) => record.name))).toEqual(new Set(commands.keys()));
});

test.each(uses)(
	'%j does what it says, and its patch back is the inverse',
	(record, read, wanted, start = defaultBench) => {
		const before = structuredClone(start);
		const { document, forward, back } = execute(start, record, commands);
		const found = read(document.setup);
		if (typeof wanted === 'object' && wanted !== null && !Array.isArray(wanted))
			expect(found).toMatchObject(wanted);
		else expect(found).toEqual(wanted);
		expect(applyPatches(start.setup, forward as Patch[])).toEqual(document.setup);
		expect(applyPatches(document.setup, back as Patch[])).toEqual(before.setup);
		expect(start).toEqual(before);
		if (!['calibrate', 'renew part'].includes(record.name)) expect(document.history).toBe(start.history);
	}
);

test('the bench as it is told again is no change', () => {
	const again = [
		command('set level', { level: '-20 dBm' }),
		command('set part', { part: 'pad', resistorErrors: ['0 %', '0 %', '0 %'] }),
		command('choose device', { device: 'mast preamp' }),
		command('set output', { kind: 'impedance', resistance: '50 ohm', reactance: '0 ohm' }),
		command('set sweep', {}),
		command('use calibration', { calibration: 'calibration-1' })
	];
	for (const record of again) {
		const { document, forward } = execute(defaultBench, record, commands);
		expect(document.setup).toBe(defaultBench.setup);
		expect(forward).toEqual([]);
	}
});

const thirteen = Array.from({ length: 9 }, () =>
	command('add part', { kind: 'pad', after: 'reflectometer' })
);
const full = after(defaultBench, ...thirteen);
const loaded = after(defaultBench, command('choose device', { device: 'open' }));

test.each([
	['an unknown command', defaultBench, command('make tea', {}), 'command-unknown', /set level/],
	['a name every object has', defaultBench, command('constructor', {}), 'command-unknown', /set level/],
	[
		'an unknown argument',
		defaultBench,
		command('set level', { level: '-20 dBm', by: 1 }),
		'command-arguments',
		/Remove/
	],
	['a missing argument', defaultBench, command('set level', {}), 'command-arguments', /-120 dBm to 30 dBm/],
	['a unit missing', defaultBench, command('set level', { level: '-20' }), 'command-arguments', /dBm/],
	[
		'a number for text',
		defaultBench,
		command('set level', { level: -20 }),
		'command-arguments',
		/with its unit/
	],
	[
		'a level out of range',
		defaultBench,
		command('set level', { level: '20 dBm' }),
		'setup-value',
		/range of this source/
	],
	['0 points', defaultBench, command('set sweep', { points: 0 }), 'command-arguments', /1 to 100000/],
	[
		'100001 points',
		defaultBench,
		command('set sweep', { points: 100001 }),
		'command-arguments',
		/1 to 100000/
	],
	[
		'a start above the stop',
		defaultBench,
		command('set sweep', { start: '1 GHz' }),
		'setup-value',
		/not below/
	],
	[
		'an unknown part',
		defaultBench,
		command('remove part', { part: 'limiter' }),
		'part-unknown',
		/pad, cable, adapter/
	],
	[
		'an unknown kind',
		defaultBench,
		command('add part', { kind: 'amplifier', after: 'pad' }),
		'command-arguments',
		/pad, cable/
	],
	[
		'a place that is none',
		defaultBench,
		command('add part', { kind: 'pad', after: 'tea' }),
		'part-unknown',
		/pad, cable/
	],
	[
		'a setting of another kind',
		defaultBench,
		command('set part', { part: 'pad', length: '1 m' }),
		'part-setting',
		/attenuation/
	],
	[
		'a negative loss',
		defaultBench,
		command('set part', { part: 'pad', attenuation: '-3 dB' }),
		'command-arguments',
		/0 dB to 80 dB/
	],
	[
		'one part too many',
		full,
		command('add part', { kind: 'pad', after: 'reflectometer' }),
		'part-count',
		/at most 12/
	],
	[
		'an unknown device',
		defaultBench,
		command('choose device', { device: 'antenna' }),
		'command-arguments',
		/mast preamp/
	],
	[
		'two devices',
		defaultBench,
		command('import device', { device: [measured, measured] }),
		'command-arguments',
		/one device/
	],
	[
		'a ceiling for a load',
		loaded,
		command('set ceiling', { ceiling: '-30 dBm' }),
		'device-ceiling',
		/front end/
	],
	[
		'a plane beyond the line',
		defaultBench,
		command('calibrate', { plane: 4, averages: 1 }),
		'calibration-plane',
		/one of them/
	],
	[
		'no averages',
		defaultBench,
		command('calibrate', { plane: 2, averages: 0 }),
		'command-arguments',
		/1 to 10000/
	],
	[
		'an unknown calibration',
		defaultBench,
		command('use calibration', { calibration: 'mine' }),
		'calibration-unknown',
		/calibration-1/
	]
] as const)('%s is refused and the document left as it was', (_, document, record, code, remedy) => {
	const before = structuredClone(document);
	try {
		execute(document, record, commands);
		expect.unreachable();
	} catch (fault) {
		if (!(fault instanceof Fault)) throw fault;
		expect(fault.code).toBe(code);
		expect(fault.remedy).toMatch(remedy);
	}
	expect(document).toEqual(before);
});

test('calibrating adds to the history and uses what it made', () => {
	const document = after(defaultBench, command('calibrate', { plane: 1, averages: 8 }));
	expect(document.history.events.slice(0, 3)).toEqual(defaultBench.history.events);
	expect(document.history.events.slice(3)).toMatchObject([
		{ standard: 'open', plane: 1, first: 192, count: 8 },
		{ standard: 'short', first: 200 },
		{ standard: 'load', first: 208 }
	]);
	const earlier = after(document, command('use calibration', { calibration: 'calibration-1' }));
	// the extension counted from plane 2; a calibration elsewhere sets it back, one at the same plane leaves it
	const moved = { ...defaultBench.setup.processing, extension: { delay: 0, loss: 0 } };
	expect(earlier.setup).toEqual({ ...defaultBench.setup, processing: moved });
	const same = after(defaultBench, command('calibrate', { plane: 2, averages: 8 }));
	expect(same.setup.processing.extension).toEqual(defaultBench.setup.processing.extension);
});
