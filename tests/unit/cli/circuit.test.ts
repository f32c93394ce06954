import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { folderWith, perform } from './terminal.ts';

type Pair = readonly [number, number];
type Row = Readonly<Record<string, number | boolean | string>> & { s11: Pair; zin: Pair; s21?: Pair };
type Table = Readonly<Record<string, readonly Pair[]>> & {
	freqs_hz: number[];
	bias?: Record<string, number>;
};
interface Answer {
	readonly results: Readonly<Record<string, Table | readonly Row[]>>;
}

const pathOf = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const PREAMP = pathOf('../files/netlists/preamp.netlist.yaml');
const reference = (id: string): string => pathOf(`../../reference/data/circuits/${id}.json`);

async function answer(...typed: string[]): Promise<Answer> {
	const { code, printed } = await perform('circuit', ...typed, '--json');
	expect(code).toBe(0);
	return JSON.parse(printed) as Answer;
}

const apart = (a: Pair, b: Pair): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/**
 * Tolerances of the README beside the reference circuits, with twelve harmonics (its column for nine); the whole table,
 * for every circuit and number of harmonics, is in `tests/reference/circuits.test.ts`.
 */
test.each(['lossy_line', 'detector_100', 'jfet_10'])(
	'%s, solved by its own analyses without its stored results, agrees with an independent simulator',
	async (id) => {
		const circuit = JSON.parse(readFileSync(reference(id), 'utf8')) as Answer & {
			probes?: { name: string }[];
		};
		const inside = folderWith({ 'circuit.json': JSON.stringify({ ...circuit, results: undefined }) });
		const { results } = await answer(inside('circuit.json'), '--harmonics', '12');
		expect(Object.keys(results)).toEqual(Object.keys(circuit.results).filter((name) => name in results));
		for (const [name, ours] of Object.entries(results)) {
			const theirs = circuit.results[name];
			if (!Array.isArray(ours)) {
				for (const [key, column] of Object.entries(theirs as Readonly<Record<string, readonly Pair[]>>))
					if (key.startsWith('s'))
						column.forEach((value, i) =>
							expect(apart((ours as Table)[key][i], value), `${name} ${key} ${i}`).toBeLessThan(1e-9)
						);
				continue;
			}
			if (name === 'step_study') continue;
			const rows = ours as readonly Row[];
			expect(rows).toHaveLength((theirs as readonly Row[]).length);
			(theirs as readonly Row[]).forEach((point, i) => {
				const own = rows[i];
				const quiet = (point.dbm as number) <= -40;
				const where = `${name} ${point.freq_hz as number} Hz ${point.dbm as number} dBm`;
				expect([own.freq_hz, own.dbm, own.converged]).toEqual([point.freq_hz, point.dbm, true]);
				expect(apart(own.s11, point.s11), where).toBeLessThan(quiet ? 1e-5 : 3e-4);
				expect(apart(own.zin, point.zin) / Math.hypot(...point.zin), where).toBeLessThan(quiet ? 2e-5 : 6e-4);
				if (point.s21)
					expect(Math.abs((own.gain_db as number) - (point.gain_db as number)), where).toBeLessThan(
						quiet ? 1e-4 : 0.01
					);
				for (const probe of circuit.probes ?? []) {
					const current = probe.name.endsWith('_a');
					const limit = current ? (quiet ? 1e-7 : 5e-6) : quiet ? 1e-6 : 3e-3;
					expect(Math.abs((own[probe.name] as number) - (point[probe.name] as number)), where).toBeLessThan(
						limit
					);
				}
			});
		}
	},
	60_000
);

test('a netlist file is solved where the options say, with units together or apart', async () => {
	const { results } = await answer(PREAMP, '--from', '160', 'MHz', '--to', '180MHz', '--points', '21');
	const table = results.small_signal as Table;
	const stored = (JSON.parse(readFileSync(reference('preamp_169'), 'utf8')) as Answer).results
		.sparams as Table;
	expect(table.freqs_hz).toEqual(stored.freqs_hz);
	for (const key of ['s11', 's12', 's21', 's22'])
		stored[key].forEach((value, i) => expect(apart(table[key][i], value)).toBeLessThan(1e-9));
	expect(table.bias?.['collector current']).toBeCloseTo(stored.bias!.ic_dc_a, 9);
});

test('a range of levels is driven step by step, the last one included', async () => {
	const { results } = await answer(PREAMP, '--from', '169.5e6', '--drive', '-40..-20', 'dBm', '--step=15 dB');
	const rows = results.drive as readonly Row[];
	expect(rows.map(({ dbm }) => dbm)).toEqual([-40, -25, -20]);
	expect(rows.every(({ converged }) => converged === true)).toBe(true);
	// preamp_169 of the reference circuits at −20 dBm, tolerance of its README above −40 dBm with seven harmonics
	expect(apart(rows[2].s11, [-0.12708, -0.10992])).toBeLessThan(1e-3);
	expect(Math.abs((rows[2].gain_db as number) - 16.14)).toBeLessThan(0.03);
});

test('a state of the netlist sets its supplies', async () => {
	const { results } = await answer(PREAMP, '--from', '169.5MHz', '--set', 'supply=off');
	const stored = (JSON.parse(readFileSync(reference('preamp_169'), 'utf8')) as Answer).results
		.small_signal_drive_freq_supply_off as Table;
	expect(apart((results.small_signal as Table).s11[0], stored.s11[0])).toBeLessThan(1e-9);
});

test.each([
	['169.5', '  169.500 Hz'],
	['169.5kHz', '  169.500 kHz'],
	['169.5MHz', '  169.500 MHz']
])('%s is printed in a unit that shows it', async (from, words) => {
	const { printed } = await perform('circuit', PREAMP, '--from', from);
	expect(printed).toContain(words);
});

test('in words: every value with its unit, and how each point was reached', async () => {
	const { code, printed } = await perform('circuit', PREAMP, '--from', '169.5MHz', '--drive', '-20dBm');
	expect(code).toBe(0);
	expect(printed.split('\n')).toEqual([
		'River-gauge mast preamp',
		'small signal:',
		'  at rest: collector current 3.3499 mA',
		'  thermal noise of the passive parts, leaving port 1: -174.7 dBm/Hz',
		expect.stringMatching(
			/^ {2}169\.500 MHz {2}Γ = S11 -0\.07547 - j0\.01108 {2}Z 43\.0 - j1\.0 Ω .* {2}gain 18\.99 dB {2}S22 /
		),
		'drive:',
		expect.stringMatching(
			/^ {2}169\.500 MHz {2}-20\.0 dBm {2}Γ -0\.127\d\d - j0\.109\d\d {2}Z 37\.9 - j8\.6 Ω {2}gain 16\.14 dB {2}collector current 3\.48\d\d mA {2}\d+ harmonics, \d+ iterations, converged$/
		)
	]);
});

test('a matched pad sends out kT, and the noise stands beside the results, not in them', async () => {
	// kT0 = −173.975 dBm/Hz (SI value of k, 290 K); a matched 10 dB pad of its own gives 1 − 1/10 of it (Bosma 1967)
	const { code, printed } = await perform('circuit', reference('pad_pi_10'), '--json');
	expect(code).toBe(0);
	const { results, thermal_noise: noise } = JSON.parse(printed) as Answer & {
		thermal_noise: Record<string, { freqs_hz: number[]; port_1_dbm_per_hz: number[] }>;
	};
	const { freqs_hz, port_1_dbm_per_hz } = noise.sparams;
	expect(Object.keys(noise)).toEqual(Object.keys(results));
	expect(freqs_hz).toEqual((results.sparams as Table).freqs_hz);
	for (const level of port_1_dbm_per_hz) expect(level).toBeCloseTo(-173.975 + 10 * Math.log10(0.9), 2);
	const words = await perform('circuit', reference('pad_pi_10'), '--from', '1MHz');
	expect(words.printed).toContain('thermal noise of the passive parts, leaving port 1: -174.4 dBm/Hz');
	const coil = { kind: 'L', name: 'L1', nodes: ['in', '0'], value: 1e-6 };
	const lossless = JSON.stringify({ elements: [coil], ports: [{ n: 1, node: 'in' }] });
	const path = folderWith({ 'coil.json': lossless })('coil.json');
	expect((await perform('circuit', path, '--from', '1MHz')).printed).toContain('leaving port 1: none');
	expect((await perform('circuit', path, '--from', '1MHz', '--json')).printed).toContain(
		'dbm_per_hz":[null]'
	);
	const band = await perform('circuit', reference('lossy_line'), '--from', '1MHz', '--to', '200MHz');
	expect(band.printed).toMatch(/leaving port 1: -\d+\.\d to -\d+\.\d dBm\/Hz\n/);
});

test('a point that does not converge says so and has no results, and the exit code is 1', async () => {
	// past the fold its bias swings for ever; see `tests/unit/circuit/stability.test.ts`
	const typed = [reference('varactor_100'), '--from', '98MHz', '--drive', '4dBm'];
	const { code, printed } = await perform('circuit', ...typed);
	expect(code).toBe(1);
	expect(printed).toContain('a small disturbance grows');
	const json = await perform('circuit', ...typed, '--json');
	expect(json.code).toBe(1);
	const [row] = (JSON.parse(json.printed) as Answer).results.drive as readonly Row[];
	expect(row).toMatchObject({ converged: false, reason: 'unstable' });
	expect(Object.keys(row)).not.toContain('s11');
});

test('a circuit that oscillates at rest is refused', async () => {
	// the oscillator of `tests/unit/circuit/stability.test.ts`: with this load its growing roots lie at 30.7 MHz (worked out from
	// the cubic of its two nodes and its coil), and it grows by a seventh of that angular frequency
	const oscillator = [
		'faint echo netlist: 1',
		'name: Oscillator',
		'elements:',
		'  Q1: { bipolar transistor: n, collector: c, base: ground, emitter: e }',
		'  V1: { supply: 5 V, from: top, to: ground }',
		'  V2: { supply: 5 V, from: ground, to: low }',
		'  R1: { resistor: 4.3 kΩ, from: e, to: low }',
		'  L1: { coil: 1 µH, series resistance: 0.1 Ω, from: top, to: c }',
		'  R2: { resistor: 500 Ω, from: c, to: ground }',
		'  C1: { capacitor: 50 pF, from: c, to: e }',
		'  C2: { capacitor: 200 pF, from: e, to: ground }',
		'  R3: { resistor: 1 MΩ, from: in, to: c }',
		'models:',
		'  n: { kind: bipolar transistor, saturation current: 1 fA, forward gain: 1e4 }',
		'ports: { input: in }'
	].join('\n');
	const path = folderWith({ 'oscillator.netlist.yaml': oscillator })('oscillator.netlist.yaml');
	const { code, noted } = await perform('circuit', path, '--from', '60MHz');
	expect(code).toBe(2);
	expect(noted).toContain('at rest with 50 Ω at every port');
	expect(noted).toMatch(/a small disturbance grows at about 3[01](\.\d)? MHz/);
});

test.each([
	[[PREAMP], '--from: It is not given'],
	[[PREAMP, '--to', '180MHz'], 'without --from'],
	[[PREAMP, '--from', '160MHz', '--step', '5dB'], 'without --drive'],
	[[PREAMP, '--from', '160MHz', '--harmonics', '5'], '--harmonics: It is given without --drive'],
	[[PREAMP, '--from', '160MHz', '--points', '5'], '--points: It is given without --to'],
	[[PREAMP, '--from', '160 pF'], 'is not a unit of frequency'],
	[[PREAMP, '--from', '0'], 'Give a value from 1 Hz to 100 GHz'],
	[[PREAMP, '--from', '160MHz', '--points', '0'], 'Give a whole number from 1 to 10001'],
	[[PREAMP, '--from', '160MHz', '--drive', '0..-60dBm'], 'Give the lower level first'],
	[[PREAMP, '--from', '160MHz', '--drive', '90dBm'], 'Give a value from -150 dBm to 40 dBm'],
	[
		[PREAMP, '--from', '1MHz', '--to', '2MHz', '--points', '999', '--drive', '-60..0'].concat('--step', '1'),
		'at most'
	],
	[[PREAMP, '--from', '160MHz', '--harmonics', '1'], 'Give a whole number from 2 to 64'],
	[[PREAMP, '--from', '160MHz', '--set', 'off'], 'such as supply=off'],
	[[PREAMP, '--from', '160MHz', '--set', 'power=off'], 'Name one of its switches (supply)'],
	[[PREAMP, '--from', '160MHz', '--set', 'supply=out'], 'Give one of its positions (on, off)'],
	[[PREAMP, '--from', '160MHz', '--set', 'supply=on,supply=off'], '--set supply: It is given twice'],
	[[reference('preamp_169'), '--from', '160MHz', '--set', 'supply=off'], '(it has none)'],
	[[pathOf('../../reference/bad-netlists/floating-node.netlist.yaml'), '--from', '1MHz'], 'node a (line 5)']
])('%j is refused', async (typed, words) => {
	const { code, printed, noted } = await perform('circuit', ...typed);
	expect([code, printed]).toEqual([2, '']);
	expect(noted).toContain(words);
});

test.each([
	['{', 'cannot be read as JSON'],
	['{"elements": []}', 'bad.json, circuit, '],
	[
		'{"elements": [{"kind": "C", "name": "C1", "nodes": ["a", "b"], "value": 1e-12}], "ports": [{"n": 1, "node": "a"}], "analyses": [{"type": "ac", "name": "x", "freqs_hz": {"start": 1e6, "stop": 1e6, "points": 1}}]}',
		'bad.json, circuit, node b'
	],
	[
		'{"elements": [{"kind": "R", "name": "R1", "nodes": ["a", "0"], "value": 50}], "ports": [{"n": 1, "node": "a"}]}',
		'asks for no analysis'
	]
])('the JSON file %s is refused', async (text, words) => {
	const { code, noted } = await perform('circuit', folderWith({ 'bad.json': text })('bad.json'));
	expect(code).toBe(2);
	expect(noted).toContain(words);
});
