import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { checkNetlist } from '#lib/circuit/check.ts';
import { readNetlist } from '#lib/files/netlist-file.ts';
import { faultOf } from '../fault-of.ts';

// Every file in the folder is a circuit nobody can solve; beside it stands, whole, what is printed about it.
// To add a case, add the file and run the tests once: its message is written for you to look at.
const folder = new URL('./bad-netlists/', import.meta.url);
const names = readdirSync(folder).filter((name) => name.endsWith('.netlist.yaml'));

test('there are bad netlists to read', () => {
	expect(names.length).toBeGreaterThan(60);
});

test.each(names)('%s is refused in plain words, at once', async (name) => {
	const text = readFileSync(new URL(name, folder), 'utf8');
	const started = performance.now();
	const fault = faultOf(() => readNetlist(text, name));
	expect(performance.now() - started).toBeLessThan(2000);
	expect(fault.place).toContain(name);
	expect(fault.remedy).not.toBe('');
	await expect(`${fault.message}\n`).toMatchFileSnapshot(new URL(`${name}.message.txt`, folder).pathname);
});

test('every message stands beside a file', () => {
	const messages = readdirSync(folder).filter((name) => name.endsWith('.message.txt'));
	expect(messages.filter((name) => !names.includes(name.replace('.message.txt', '')))).toEqual([]);
});

/** As many elements as that, each a supply across the same two nodes: what costs most to look through. */
const written = (count: number, line: (i: number) => string): string =>
	`faint echo netlist: 1\nname: Large\nelements:\n${Array.from({ length: count }, (_, i) => line(i)).join('')}ports: {input: in}\n`;

test.each([
	[
		'a hundred thousand elements',
		written(100_000, (i) => `  R${i}: {resistor: 50 Ω, from: in, to: ground}\n`)
	],
	['as many empty ones as the size of a file allows', written(12_000, (i) => `  R${i}:\n`)],
	[
		'three thousand loops of supplies',
		written(2_000, (i) => `  V${i}: {supply: 5 V, from: in, to: ground}\n`)
	]
])('%s are refused at once', (_, text) => {
	const started = performance.now();
	const fault = faultOf(() => readNetlist(text, 'large.netlist.yaml'));
	expect(performance.now() - started).toBeLessThan(3000);
	expect(fault.place).toContain('large.netlist.yaml');
});

test('a hundred thousand elements that came some other way are refused at once', () => {
	const elements = Array.from({ length: 100_000 }, (_, i) => ({
		kind: 'supply' as const,
		name: `V${i}`,
		from: 'in',
		to: 'ground',
		voltage: 5
	}));
	const started = performance.now();
	const fault = faultOf(() => checkNetlist({ elements, models: {}, ports: ['in'], probes: [] }));
	expect(performance.now() - started).toBeLessThan(500);
	expect(fault.code).toBe('circuit-size');
});
