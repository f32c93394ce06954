import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';
import { run } from '../../../src/cli/run.ts';

export interface Outcome {
	readonly code: number;
	readonly printed: string;
	readonly noted: string;
}

/** Runs the command line without starting a program, and tells what it would have written. */
export async function perform(...typed: string[]): Promise<Outcome> {
	const printed: string[] = [];
	const noted: string[] = [];
	const code = await run(typed, { print: (text) => printed.push(text), note: (text) => noted.push(text) });
	return { code, printed: printed.join('\n'), noted: noted.join('\n') };
}

/** A folder that is gone when the test is over. */
export function folderWith(files: Readonly<Record<string, string>> = {}): (name: string) => string {
	const folder = mkdtempSync(join(tmpdir(), 'faint-echo-'));
	onTestFinished(() => rmSync(folder, { recursive: true }));
	for (const [name, text] of Object.entries(files)) writeFileSync(join(folder, name), text);
	return (name) => join(folder, name);
}

const referenceData = (path: string): string =>
	fileURLToPath(new URL(`../../reference/data/${path}`, import.meta.url));

export const MAST = referenceData('bench-v1/mast.bench.yaml');
export const IMPORTED = referenceData('bench-v1/imported.bench.yaml');
