import { expect, test } from 'vitest';
import { deviceCatalogue } from '#lib/bench/device-catalogue.ts';
import { blackBoxBench } from '../bench/examples.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { writeBench } from '#lib/files/bench-file.ts';
import { folderWith, IMPORTED, perform } from './terminal.ts';

type Pair = [number, number];

async function truth(...typed: string[]) {
	const { code, printed, noted } = await perform('truth', ...typed);
	expect(code).toBe(0);
	return {
		...(JSON.parse(printed) as { ports: number; frequencies_hz: number[]; gamma?: Pair[] }),
		printed,
		noted
	};
}

test('a one-port file at its own frequencies', async () => {
	const inside = folderWith({ 'a.s1p': '# MHz S RI R 50\n169.4 0.1 -0.2\n169.5 0.3 0.4\n' });
	const { printed, noted } = await truth(inside('a.s1p'));
	expect(JSON.parse(printed)).toEqual({
		ports: 1,
		frequencies_hz: [169.4e6, 169.5e6],
		s: [
			[0.1, -0.2],
			[0.3, 0.4]
		]
	});
	expect(noted).toBe('');
	expect((await truth(inside('a.s1p'), '--json')).printed).toBe(printed);
});

test('a two-port file row by row of its matrix, though the file has S21 before S12', async () => {
	const inside = folderWith({ 'a.s2p': '# GHz S RI R 50\n1 0.11 0 0.21 0 0.12 0 0.22 0\n' });
	expect(JSON.parse((await truth(inside('a.s2p'))).printed)).toEqual({
		ports: 2,
		frequencies_hz: [1e9],
		s: [
			[
				[
					[0.11, 0],
					[0.12, 0]
				],
				[
					[0.21, 0],
					[0.22, 0]
				]
			]
		]
	});
});

test('what was changed in reading a file is said beside the answer', async () => {
	const inside = folderWith({ 'a.s1p': '# MHz S RI R 75\n169.4 0 0\n' });
	const { printed, noted } = await truth(inside('a.s1p'));
	expect(JSON.parse(printed)).toMatchObject({ s: [[expect.closeTo(0.2, 12), 0]] });
	expect(noted).toContain('75 Ω to 50 Ω');
});

test('a file that must be refused gives code 2, its line, and nothing on the standard output', async () => {
	const inside = folderWith({ 'a.s2p': '# MHz S RI R 50\n169.4 0.1 -0.2 0.3\n' });
	const { code, printed, noted } = await perform('truth', inside('a.s2p'));
	expect([code, printed]).toEqual([2, '']);
	expect(noted).toContain('a.s2p, line 2');
});

test('a bench with a two-port answers with its matrix, and with what it presents', async () => {
	const { ports, frequencies_hz, gamma, printed } = await truth(IMPORTED);
	const { s } = JSON.parse(printed) as { s: [[Pair, Pair], [Pair, Pair]][] };
	expect([ports, frequencies_hz.length, s.length, gamma?.length]).toEqual([2, 201, 201, 201]);
	// Γin = S11 + S12·S21·ΓL/(1 − S22·ΓL), Pozar, Microwave Engineering, 4th ed., 2012, eq. 12.3a; ΓL of 75 − j10 Ω
	const times = ([a, b]: Pair, [c, d]: Pair): Pair => [a * c - b * d, a * d + b * c];
	const over = (p: Pair, [c, d]: Pair): Pair => times(p, [c / (c * c + d * d), -d / (c * c + d * d)]);
	const load = over([25, -10], [125, -10]);
	const [[s11, s12], [s21, s22]] = s[100];
	const loop = times(s22, load);
	const [re, im] = over(times(times(s12, s21), load), [1 - loop[0], -loop[1]]);
	expect(gamma?.[100][0]).toBeCloseTo(s11[0] + re, 12);
	expect(gamma?.[100][1]).toBeCloseTo(s11[1] + im, 12);
});

test('a bench with an ideal load answers as a one-port', async () => {
	const device =
		deviceCatalogue.find(({ name }) => name === '100 ohm load')?.device ?? defaultBench.setup.device;
	const text = writeBench({ ...defaultBench, setup: { ...defaultBench.setup, device } });
	const { ports, gamma, printed } = await truth(folderWith({ 'load.bench.yaml': text })('load.bench.yaml'));
	expect(ports).toBe(1);
	expect((JSON.parse(printed) as { s: Pair[] }).s).toEqual(gamma);
	expect(gamma?.every(([re, im]) => Math.abs(re - 1 / 3) < 1e-15 && im === 0)).toBe(true);
});

test('a sweep beyond the data of the device is said', async () => {
	const setup = { ...blackBoxBench.setup, sweep: { start: 1e8, stop: 2e8, points: 3 } };
	const inside = folderWith({ 'wide.bench.yaml': writeBench({ ...defaultBench, setup }) });
	expect((await truth(inside('wide.bench.yaml'))).noted).toContain("outside the device's data");
});

test.each(['truth', 'sweep'])('%s sends a netlist to the command that solves it', async (name) => {
	const text = 'faint echo netlist: 1\nname: A\nelements:\nports: {}\n';
	const inside = folderWith({ 'a.netlist.yaml': text, 'b.yaml': text, 'c.netlist.yaml': 'name: C\n' });
	for (const file of ['a.netlist.yaml', 'b.yaml', 'c.netlist.yaml']) {
		const { code, noted } = await perform(name, inside(file));
		expect(code).toBe(2);
		expect(noted).toContain(`${file}: This is a netlist`);
		expect(noted).toContain('The command "circuit" solves it');
	}
});
