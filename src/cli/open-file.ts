import { basename } from 'node:path';
import type { BenchDocument } from '#lib/bench/command.ts';
import { readBench } from '#lib/files/bench-file.ts';
import { isNetlist, isNetlistName } from '#lib/files/netlist-file.ts';
import { readTouchstone } from '#lib/files/touchstone-reader.ts';
import type { TouchstoneReading } from '#lib/files/touchstone-reader.ts';
import { faults } from './faults.ts';
import { readText } from './files.ts';

export type OpenedFile =
	| { readonly kind: 'bench'; readonly document: BenchDocument }
	| ({ readonly kind: 'touchstone' } & TouchstoneReading);

const isTouchstoneName = (file: string): boolean => /\.(s\d+p|ts)$/i.test(file);
const isBench = (file: string, text: string): boolean =>
	/\.(ya?ml|json)$/i.test(file) || text.includes('faint echo bench');

/** @throws Fault for a netlist: it has a command of its own. */
function refuseNetlist(text: string, file: string): void {
	if (isNetlist(text) || isNetlistName(file)) throw faults['netlist-alone']({ file: basename(file) });
}

/** Reads a bench file. @throws Fault saying what is wrong with it. */
export async function openBench(file: string): Promise<BenchDocument> {
	const text = await readText(file);
	refuseNetlist(text, file);
	return readBench(text, basename(file));
}

/** Reads a bench file or a Touchstone file, by its name, and where that does not tell by what is in it. */
export async function openFile(file: string): Promise<OpenedFile> {
	const text = await readText(file);
	const name = basename(file);
	refuseNetlist(text, file);
	if (!isTouchstoneName(file) && isBench(file, text))
		return { kind: 'bench', document: readBench(text, name) };
	return { kind: 'touchstone', ...readTouchstone(text, name) };
}
