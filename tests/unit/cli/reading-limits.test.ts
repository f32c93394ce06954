import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { BenchDocument } from '#lib/bench/command.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { writeBench } from '#lib/files/bench-file.ts';
import { after, benchWith, command } from '../bench/examples.ts';
import { folderWith, perform } from './terminal.ts';

interface Limits {
	readonly holds: boolean;
	readonly damage: readonly { name: string; in_this_reading: boolean; reached: number; limit: number }[];
	readonly over_ceiling_db: number | null;
	readonly silence: { kind: string } | null;
	readonly lost: unknown;
	readonly line_changed: boolean;
}

/** What `sweep` prints of a bench, in words and as data, and its exit codes. */
async function swept(document: BenchDocument) {
	const path = folderWith({ 'a.bench.yaml': writeBench(document) })('a.bench.yaml');
	const words = await perform('sweep', path, '--sweeps', '3');
	const data = await perform('sweep', path, '--sweeps', '3', '--json');
	return { codes: [words.code, data.code], words: words.printed, data: JSON.parse(data.printed) as Limits };
}

const atLevel = (level: number, pad: number): BenchDocument =>
	after(
		defaultBench,
		command('set part', { part: 'pad', attenuation: `${pad} dB` }),
		command('set level', { level: `${level} dBm` })
	);

test('a reading that holds says so and no more', async () => {
	const { codes, words, data } = await swept(atLevel(-30, 20));
	expect(codes).toEqual([0, 0]);
	expect(data).toMatchObject({
		holds: true,
		damage: [],
		over_ceiling_db: null,
		silence: null,
		lost: null,
		line_changed: false
	});
	expect(words).not.toMatch(/Over the ceiling|Damaged|Breaks|No reading|has changed/);
});

test('a level over the ceiling, by as much as the diagram has it', async () => {
	const document = benchWith({});
	const loud = after(document, command('set level', { level: '10 dBm' }));
	const { codes, words, data } = await swept(loud);
	expect(codes).toEqual([1, 1]);
	expect(data.holds).toBe(false);
	expect(data.over_ceiling_db).toBeGreaterThan(0);
	expect(words).toContain(`Over the ceiling by ${data.over_ceiling_db?.toFixed(1)} dB`);
});

test('what breaks at this level, with limit and what was reached', async () => {
	const { codes, words, data } = await swept(atLevel(10, 0));
	expect(codes).toEqual([1, 1]);
	expect(data.damage).toHaveLength(1);
	expect(data.damage[0].in_this_reading).toBe(true);
	expect(data.damage[0].reached).toBeGreaterThan(data.damage[0].limit);
	expect(words).toContain(`Breaks at this level: ${data.damage[0].name}`);
});

/** The usual bench with something of it broken before. */
const damaged = (element: string | null): BenchDocument => {
	const quiet = atLevel(-40, 20);
	return {
		...quiet,
		history: {
			...quiet.history,
			events: [
				...quiet.history.events,
				{
					kind: 'damage',
					at: quiet.history.time,
					sweep: 0,
					part: 'device',
					name: quiet.setup.device.name,
					element,
					crossed: { quantity: 'input power', limit: 0, reached: 3.02 },
					frequency: 169.5e6,
					cause: 'source'
				}
			]
		}
	};
};

test('what was broken before', async () => {
	const { setup } = defaultBench;
	const [junction] = setup.device.kind === 'circuit' ? setup.device.limits.junctions : [];
	const { codes, words, data } = await swept(damaged(junction.element));
	expect(codes).toEqual([1, 1]);
	expect(data.damage).toMatchObject([{ name: setup.device.name, in_this_reading: false, limit: 0 }]);
	expect(words).toContain(
		`Damaged: ${setup.device.name}, ${junction.element}: input power of 3.02 dBm at 169.500 MHz, it stands 0 dBm.`
	);
});

test('a device of which nothing is known any more has no reading and no markers', async () => {
	const { codes, words, data } = await swept(damaged(null));
	expect([...codes, data.silence?.kind]).toEqual([1, 1, 'broken']);
	expect(words).toContain('No reading: the device is broken');
	expect(words).not.toMatch(/^(low|centre|high) /m);
});

test('a line that is not the one calibrated', async () => {
	const changed = after(atLevel(-40, 20), command('set part', { part: 'pad', attenuation: '23 dB' }));
	const { codes, words, data } = await swept(changed);
	expect([...codes, data.line_changed]).toEqual([1, 1, true]);
	expect(words).toContain('The line has changed since it was calibrated');
});

test('a file of the reading says it in its comments', async () => {
	const inside = folderWith({ 'a.bench.yaml': writeBench(atLevel(10, 0)) });
	const { code } = await perform('sweep', inside('a.bench.yaml'), '--out', inside('a.csv'));
	expect(code).toBe(1);
	expect(readFileSync(inside('a.csv'), 'utf8')).toContain('# Breaks at this level: ');
});
