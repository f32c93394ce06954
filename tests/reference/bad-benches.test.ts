import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { readBench } from '#lib/files/bench-file.ts';
import { faultOf } from '../fault-of.ts';

// Every file in the folder is a bench nobody can use; beside it stands, whole, what is printed about it.
// To add a case, add the file and run the tests once: its message is written for you to look at.
const folder = new URL('./bad-benches/', import.meta.url);
const names = readdirSync(folder).filter((name) => name.endsWith('.bench.yaml'));

test('there are bad benches to read', () => {
	expect(names.length).toBeGreaterThan(60);
});

test.each(names)('%s is refused in plain words, at once', async (name) => {
	const started = performance.now();
	const fault = faultOf(() => readBench(readFileSync(new URL(name, folder), 'utf8'), name));
	expect(performance.now() - started).toBeLessThan(2000);
	expect(fault.place).toContain(name);
	expect(fault.remedy).not.toBe('');
	await expect(`${fault.message}\n`).toMatchFileSnapshot(new URL(`${name}.message.txt`, folder).pathname);
});

test('every message stands beside a file', () => {
	const messages = readdirSync(folder).filter((name) => name.endsWith('.message.txt'));
	expect(messages.filter((name) => !names.includes(name.replace('.message.txt', '')))).toEqual([]);
});
