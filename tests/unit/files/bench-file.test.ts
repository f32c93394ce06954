import { expect, test } from 'vitest';
import fc from 'fast-check';
import { Fault } from '#lib/fault.ts';
import { execute } from '#lib/bench/command.ts';
import type { BenchDocument, CommandRecord } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { EMPTY_HISTORY, withSweeps } from '#lib/bench/history.ts';
import { BenchSession } from '#lib/bench/session.ts';
import { blackBoxBench } from '../bench/examples.ts';
import { benchJsonSchema, readBench, writeBench } from '#lib/files/bench-file.ts';

const usual = writeBench(blackBoxBench);
const command = (name: string, given: Record<string, unknown>): CommandRecord => ({ name, arguments: given });

/** Any size a setting may have, not only round ones. */
const amount = (from: number, to: number): fc.Arbitrary<number> =>
	fc.double({ min: from, max: to, noNaN: true }).map((value) => value + 0);

const anyCommand: fc.Arbitrary<CommandRecord> = fc.oneof(
	amount(-60, 10).map((level) => command('set level', { level: `${level} dBm` })),
	amount(1, 1e6).map((hertz) => command('set bandwidth', { bandwidth: `${hertz} Hz` })),
	fc.integer({ min: 1, max: 9 }).map((averages) => command('set averages', { averages })),
	amount(-1e-7, 1e-7).map((delay) => command('set extension', { delay: `${delay} s` })),
	amount(0, 80).map((db) => command('set part', { part: 'pad', attenuation: `${db} dB` })),
	amount(0, 200).map((metres) => command('set part', { part: 'cable', length: `${metres} m` })),
	fc
		.constantFrom('pad', 'cable', 'adapter')
		.map((kind) => command('add part', { kind, after: 'reflectometer' })),
	fc
		.tuple(amount(0, 1e6), amount(-1e6, 1e6))
		.map(([r, x]) => command('set device', { resistance: `${r} Ω`, reactance: `${x} Ω` })),
	fc.integer({ min: 0, max: 3 }).map((plane) => command('calibrate', { plane, averages: 3 })),
	fc
		.constantFrom('- name', 'a: b', "it's", '"', '#', '169,5', 'yes', '1', '\u00b5\u03a9', ' x ')
		.map((name) => command('rename bench', { name }))
);

/** The bench after these commands and the sweeps between them; what is refused is passed over. */
const played = (records: readonly CommandRecord[]): BenchDocument =>
	records.reduce<BenchDocument>((before, record) => {
		const history = withSweeps(before.history, before.setup, 2);
		try {
			return execute({ ...before, history }, record, commands).document;
		} catch (fault) {
			if (!(fault instanceof Fault)) throw fault;
			return before;
		}
	}, defaultBench);

test('whatever was done to a bench, its file gives back the identical bench', { timeout: 30_000 }, () => {
	fc.assert(
		fc.property(fc.array(anyCommand, { maxLength: 12 }), (records) => {
			const document = played(records);
			const text = writeBench(document);
			const read = readBench(text, 'mine.bench.yaml');
			expect(read).toEqual(document);
			expect(writeBench(read)).toBe(text);
		}),
		{ seed: 1694, numRuns: 60 }
	);
});

test('a bench read back shows the identical readings, its calibration made again from its events', () => {
	const document = played([
		command('calibrate', { plane: 3, averages: 5 }),
		command('set averages', { averages: 7 })
	]);
	const before = new BenchSession(document).picture();
	expect(before.correction).toMatchObject({ kind: 'calibration', id: 'calibration-2' });
	expect(new BenchSession(readBench(writeBench(document), 'x')).picture()).toEqual(before);
});

test('quantities are written with units, and JSON is read as well', () => {
	expect(usual).toContain('faint echo bench: 1\n');
	expect(usual).toContain('level: -20 dBm\n');
	expect(usual).toContain('start: 169.4 MHz\n');
	expect(readBench(usual.replaceAll('\n', '\r\n'), 'x')).toEqual(blackBoxBench);
	const { setup } = readBench(usual.replace(/\nhistory:[^]*/, '\n').replace('calibration-1', 'null'), 'x');
	expect(setup.processing.calibration).toBeNull();
});

test('without a history a bench begins with an empty one', () => {
	const text = usual.replace(/\nhistory:[^]*/, '\n').replace('calibration-1', 'null');
	expect(readBench(text, 'x').history).toEqual(EMPTY_HISTORY);
});

const wrong = (from: string | RegExp, to: string): string => {
	const text = usual.replace(from, to);
	expect(text).not.toBe(usual);
	return text;
};
const lineOf = (text: string): number => usual.slice(0, usual.indexOf(text)).split('\n').length;

test.each<[string, string, string, RegExp]>([
	['nothing', '', 'bench-kind', /nothing|null/],
	['a Touchstone file', '# MHz S RI R 50\n', 'bench-kind', /\.s1p or \.s2p/],
	['a list', '- 1\n- 2\n', 'bench-kind', /faint echo bench/],
	['another YAML file', 'title: Pads\n', 'bench-kind', /faint echo bench/],
	['version 2', wrong('bench: 1', 'bench: 2'), 'bench-version', /version 2; this program reads version 1/],
	['the version in quotes', wrong('bench: 1', "bench: '1'"), 'bench-version', /"1"/],
	[
		'a unit missing',
		wrong('level: -20 dBm', 'level: -20'),
		'bench-value',
		/setup\.source\.level.*with its unit/
	],
	['a wrong unit', wrong('level: -20 dBm', 'level: -20 dB'), 'bench-value', /setup\.source\.level.*dBm/],
	['a decimal comma', wrong('169.4 MHz', '"169,4 MHz"'), 'bench-value', /setup\.sweep\.start.*169\.4/],
	['wrong capitals', wrong('169.4 MHz', '169.4 mHz'), 'bench-value', /setup\.sweep\.start.*MHz/],
	['0 points', wrong('points: 201', 'points: 0'), 'bench-value', /setup\.sweep\.points.*1 to 100000/],
	[
		'100001 points',
		wrong('points: 201', 'points: 100001'),
		'bench-value',
		/setup\.sweep\.points.*1 to 100000/
	],
	['not a number', wrong('points: 201', 'points: .nan'), 'bench-value', /setup\.sweep\.points/],
	['an infinity', wrong('0.598462931', '.inf'), 'bench-value', /setup\.device\.data\.s\[item 1\].*finite/],
	[
		'a negative loss',
		wrong('attenuation: 20 dB', 'attenuation: -20 dB'),
		'bench-value',
		/parts\[item 1\]\.attenuation/
	],
	['an unknown key', wrong('seed: 1694', 'seed: 1694\n  colour: red'), 'bench-value', /"colour"/],
	['an unknown part', wrong('kind: adapter', 'kind: amplifier'), 'bench-value', /pad, cable or adapter/],
	['two devices', wrong('device:\n', 'device:\n    kind: open\n'), 'bench-syntax', /twice/],
	[
		'a list of devices',
		wrong(/device:\n[^]*?output:/, 'device: [{kind: open, name: a}, {kind: open, name: b}]\n  output:'),
		'bench-value',
		/one device/
	],
	[
		'a key of the prototype',
		wrong('setup:\n', 'setup:\n  __proto__: {seed: 5}\n'),
		'bench-value',
		/__proto__/
	],
	[
		'another key of it',
		wrong('setup:\n', 'setup:\n  constructor: {seed: 5}\n'),
		'bench-value',
		/constructor/
	],
	['an alias', wrong('-60 dBm', '&low -60 dBm').replace('10 dBm', '*low'), 'bench-syntax', /alias/],
	[
		'a bomb of aliases',
		`faint echo bench: 1\na: &a [x, x]\n${'bcdefghij'
			.split('')
			.map((k, i) => `${k}: &${k} [${`*${'abcdefghi'[i]}, `.repeat(9)}x]`)
			.join('\n')}\n`,
		'bench-syntax',
		/alias/
	],
	['a merge key', wrong('setup:\n', 'setup:\n  <<: {seed: 5}\n'), 'bench-value', /<</],
	['a tag', wrong('-20 dBm', '!!js/function f'), 'bench-syntax', /tag/],
	['a tag of its own', wrong('seed: 1694', 'seed: !mine 5'), 'bench-syntax', /tag/],
	['two documents', `${usual}---\na: 1\n`, 'bench-syntax', /more than one document/],
	['a tab', wrong('  seed', '\tseed'), 'bench-syntax', /./],
	['deep nesting', '['.repeat(100_000), 'bench-syntax', /./],
	['a file cut off', usual.slice(0, usual.indexOf('  parts:')), 'bench-value', /./],
	['binary', '\u0000\u0001\u0002', 'bench-text', /./],
	[
		'a calibration that was never made',
		wrong('calibration: calibration-1\n    ext', 'calibration: mine\n    ext'),
		'bench-value',
		/setup\.processing\.calibration.*calibration-1/
	],
	[
		'a calibration of two standards',
		wrong('standard: load', 'standard: short'),
		'bench-value',
		/setup\.processing\.calibration.*all three/
	],
	[
		'standards of different setups',
		wrong(/setup: 0\n {6}first: 64/, 'setup: 1\n      first: 64'),
		'bench-value',
		/setup.*frozen setup/
	],
	['a plane that does not fit', wrong('plane: 2', 'plane: 1'), 'bench-value', /plane.*: 2/]
])('%s is refused', (_, text, code, words) => {
	try {
		readBench(text, 'mine.bench.yaml');
		expect.unreachable();
	} catch (fault) {
		if (!(fault instanceof Fault)) throw fault;
		expect(fault.code).toBe(code);
		expect(fault.place).toMatch(/^mine\.bench\.yaml/);
		expect(fault.message).toMatch(words);
		expect(fault.message).not.toMatch(/Invalid input|undefined/);
		expect(fault.message.length).toBeLessThan(600);
	}
});

test('a refusal names the line', () => {
	expect(() => readBench(wrong('level: -20 dBm', 'level: 5'), 'x')).toThrow(`(line ${lineOf('level: -20')})`);
	expect(() => readBench(wrong('0.598462931', '.nan'), 'x')).toThrow(`(line ${lineOf('0.598462931')})`);
	expect(() => readBench(wrong('    - id: cable', '    - id: pad'), 'x')).toThrow(
		`(line ${lineOf('id: cable')})`
	);
});

test('the whole file too large is refused before it is read', () => {
	expect(() => readBench('#'.repeat(40_000_001), 'x')).toThrow(/at most 40000000/);
});

test('the form of the file is published as JSON Schema', () => {
	const schema = benchJsonSchema() as {
		required: string[];
		additionalProperties: boolean;
		properties: object;
	};
	expect(schema.required).toEqual(['faint echo bench', 'setup']);
	expect(schema.additionalProperties).toBe(false);
	expect(Object.keys(schema.properties)).toContain('history');
});
