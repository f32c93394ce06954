import { readFile, realpath, stat, writeFile } from 'node:fs/promises';
import { faults } from './faults.ts';

/** Bytes; more than any file this program writes. */
const LARGEST_FILE = 64 * 1024 * 1024;

const codeOf = (error: unknown): string =>
	error instanceof Error && 'code' in error ? String(error.code) : String(error);

/**
 * The text of a file, UTF-8; bytes that are none become replacement characters, which the readers of the formats
 * refuse where they matter. @throws Fault when there is no such file, it cannot be read, or it is too large.
 */
export async function readText(file: string): Promise<string> {
	if (file === '') throw faults['file-name-empty']();
	try {
		const found = await stat(file);
		if (!found.isFile()) throw faults['file-folder']({ file });
		if (found.size > LARGEST_FILE)
			throw faults['file-large']({ file, found: found.size, allowed: LARGEST_FILE });
		return new TextDecoder().decode(await readFile(file));
	} catch (error) {
		const code = codeOf(error);
		if (code === 'ENOENT' || code === 'ENOTDIR') throw faults['file-missing']({ file });
		if (/^E[A-Z]+$/.test(code)) throw faults['file-unreadable']({ file, problem: code });
		throw error;
	}
}

/** @throws Fault when the file cannot be written, or is the one `input` was read from. */
export async function writeText(file: string, text: string, input: string): Promise<void> {
	const same = await realpath(file).then(
		async (path) => path === (await realpath(input)),
		() => false
	);
	if (same) throw faults['file-own-input']({ file });
	try {
		await writeFile(file, text);
	} catch (error) {
		throw faults['file-unwritable']({ file, problem: codeOf(error) });
	}
}
