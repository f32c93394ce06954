import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Fault } from '#lib/fault.ts';
import { faults } from '#lib/files/faults.ts';
import { readTouchstone } from '#lib/files/touchstone-reader.ts';
import { faultOf } from '../fault-of.ts';

// Every file in the folder is a file nobody can read; beside it stands, whole, what is printed about it.
// To add a case, add the file and run the tests once: its message is written for you to look at.
const folder = new URL('./bad-touchstone/', import.meta.url);
const names = readdirSync(folder).filter((name) => !name.endsWith('.message.txt'));

const refusalOf = (name: string): Fault =>
	faultOf(() => readTouchstone(readFileSync(new URL(name, folder), 'utf8'), name));

test.each(names)('%s is refused in plain words', async (name) => {
	await expect(`${refusalOf(name).message}\n`).toMatchFileSnapshot(
		new URL(`${name}.message.txt`, folder).pathname
	);
});

test('every message stands beside a file', () => {
	const messages = readdirSync(folder).filter((name) => name.endsWith('.message.txt'));
	expect(messages.filter((name) => !names.includes(name.replace('.message.txt', '')))).toEqual([]);
});

test('every fault of the reader has a case', () => {
	// Too big to be kept as files, or not about reading: tests/unit/files/touchstone-reader and -writer.
	const elsewhere = ['touchstone-size', 'touchstone-line-length', 'touchstone-too-many', 'touchstone-write'];
	const seen = new Set([...names.map((name) => refusalOf(name).code), ...elsewhere]);
	const reader = Object.keys(faults).filter((code) => code.startsWith('touchstone-'));
	expect(reader.filter((code) => !seen.has(code))).toEqual([]);
});

test('every message names the file, and the line where there is one', () => {
	for (const name of names)
		expect(refusalOf(name).place).toMatch(new RegExp(`^${name.replaceAll('.', '\\.')}(, line \\d+)?$`));
});
