import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { BenchSession } from '#lib/bench/session.ts';
import { readBench, writeBench } from '#lib/files/bench-file.ts';
import { readTouchstone } from '#lib/files/touchstone-reader.ts';
import { folderWith, MAST, perform } from './terminal.ts';

interface Reading {
	settings: { seed: number; sweeps: number; effective_averages: number; calibration: string | null };
	frequencies_hz: number[];
	gamma: [number, number][];
	markers: { place: string; frequency_hz: number; resistance_ohm: number | null; swr: number | null }[];
	levels: { outgoing_dbm: number[]; floor_dbm: number[] }[];
}

async function reading(...typed: string[]): Promise<Reading> {
	const { code, printed } = await perform('sweep', ...typed, '--json');
	expect(code).toBe(0);
	return JSON.parse(printed) as Reading;
}

test('the reading is that of the bench, with its own averages', async () => {
	const { settings, frequencies_hz, gamma, markers, levels } = await reading(MAST);
	const picture = new BenchSession(readBench(readFileSync(MAST, 'utf8'), MAST)).picture();
	expect(settings).toMatchObject({
		seed: 1694,
		sweeps: 64,
		effective_averages: 64,
		calibration: 'calibration-1'
	});
	expect(frequencies_hz).toEqual(Array.from(picture.frequencies));
	expect(gamma).toEqual(Array.from(picture.displayed.re, (re, i) => [re, picture.displayed.im[i]]));
	expect(markers.map(({ place }) => place)).toEqual(['low', 'centre', 'high']);
	expect(levels[1].outgoing_dbm).toEqual(picture.markers[1].levels.outgoing);
});

test('three markers in words, each with its units', async () => {
	const { code, printed } = await perform('sweep', MAST);
	expect(code).toBe(0);
	expect(printed).toContain('64 sweeps from sweep 192, effective averages 64');
	const line =
		/^(low|centre|high) +[\d.]+ MHz {2}[\d.]+ [-+] j[\d.]+ Ω {2}return loss [\d.]+ dB {2}SWR [\d.]+ {2}-[\d.]+ dBm at the device$/;
	expect(printed.split('\n').filter((text) => line.test(text))).toHaveLength(3);
});

test('N sweeps are averaged as N, another seed gives another reading and the same seed the same', async () => {
	const four = await reading(MAST, '--sweeps', '4');
	expect(four.settings).toMatchObject({ sweeps: 4, effective_averages: 4 });
	const other = await reading(MAST, '--sweeps=4', '--seed', '7');
	expect(other.settings.seed).toBe(7);
	expect(other.gamma).not.toEqual(four.gamma);
	expect(await reading(MAST, '--seed', '7', '--sweeps', '4')).toEqual(other);
});

test('one point is a sweep too: a single frequency, one marker', async () => {
	const setup = { ...defaultBench.setup, sweep: { start: 169.5e6, stop: 169.5e6, points: 1 } };
	const inside = folderWith({ 'one.bench.yaml': writeBench({ ...defaultBench, setup }) });
	const { code, printed } = await perform('sweep', inside('one.bench.yaml'));
	expect(code).toBe(0);
	expect(printed.match(/^(low|centre|high) /gm)).toEqual(['centre ']);
	expect((await reading(inside('one.bench.yaml'))).frequencies_hz).toEqual([169.5e6]);
});

test('a line without parts is a bench: the device at the port', async () => {
	const processing = { ...defaultBench.setup.processing, calibration: null };
	// −40 dBm, which the preamp stands without a pad
	const source = { ...defaultBench.setup.source, level: -40 };
	const setup = { ...defaultBench.setup, parts: [], processing, source };
	const inside = folderWith({ 'bare.bench.yaml': writeBench({ ...defaultBench, setup }) });
	expect((await reading(inside('bare.bench.yaml'))).settings.calibration).toBeNull();
});

test('what is infinite is null in JSON and a word in the text', async () => {
	const processing = { ...defaultBench.setup.processing, calibration: null };
	const device = { kind: 'open', name: 'Open' } as const;
	// a port that adds to what returns: more than everything comes back
	const port = { ...defaultBench.setup.port, tracking: { size: 0.5, delay: 0 } };
	const setup = { ...defaultBench.setup, parts: [], processing, device, port };
	const inside = folderWith({ 'open.bench.yaml': writeBench({ ...defaultBench, setup }) });
	expect((await reading(inside('open.bench.yaml'))).markers[1].swr).toBeNull();
	expect((await perform('sweep', inside('open.bench.yaml'))).printed).toContain('no SWR');
});

test('a Touchstone file holds exactly the reading, with settings and seed in its comments', async () => {
	const inside = folderWith();
	const { code, noted } = await perform('sweep', MAST, '--seed', '5', '--out', inside('reading.s1p'));
	expect([code, noted]).toEqual([0, `written: ${inside('reading.s1p')}`]);
	const text = readFileSync(inside('reading.s1p'), 'utf8');
	expect(text).toContain('! Seed 5, 64 sweeps from sweep 192, effective averages 64');
	const { data } = readTouchstone(text, 'reading.s1p');
	expect(data.s).toEqual((await reading(MAST, '--seed', '5')).gamma.flat());
});

test('a table names its units and has a row a frequency', async () => {
	const inside = folderWith();
	await perform('sweep', MAST, '--out', inside('reading.csv'));
	const lines = readFileSync(inside('reading.csv'), 'utf8').trimEnd().split('\r\n');
	const rows = lines.filter((line) => !line.startsWith('#'));
	expect(rows[0]).toBe(
		'frequency (Hz),reflection real,reflection imaginary,resistance (Ω),reactance (Ω),return loss (dB),SWR'
	);
	expect(rows).toHaveLength(1 + 201);
});

test('a JSON file holds what --json prints', async () => {
	const inside = folderWith();
	await perform('sweep', MAST, '--out', inside('reading.json'));
	expect(JSON.parse(readFileSync(inside('reading.json'), 'utf8'))).toEqual(await reading(MAST));
});

test.each([
	[['--sweeps', '0'], 'Give a whole number from 1 to 10000.'],
	[['--sweeps', '10001'], 'Give a whole number from 1 to 10000.'],
	[['--sweeps', '1e3'], 'Give a whole number from 1 to 10000.'],
	[['--seed', '-1'], 'Give a whole number from 0 to 4294967295.'],
	[['--seed', '1.5'], 'Give a whole number from 0 to 4294967295.'],
	[['--out', 'reading.txt'], 'End it in .s1p, .csv or .json.'],
	[['--out', 'no/such/folder/reading.csv'], 'Choose a folder that exists']
])('%j is refused', async (options, words) => {
	const { code, printed, noted } = await perform('sweep', MAST, ...options);
	expect([code, printed]).toEqual([2, '']);
	expect(noted).toContain(words);
});

test('readings never overwrite the bench they were made from', async () => {
	const text = writeBench(defaultBench);
	const inside = folderWith({ 'bench.json': text });
	const { code, noted } = await perform('sweep', inside('bench.json'), '--out', inside('bench.json'));
	expect(code).toBe(2);
	expect(noted).toContain('This is the file the bench was read from.');
	expect(readFileSync(inside('bench.json'), 'utf8')).toBe(text);
});
