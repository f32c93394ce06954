import type { BenchDocument, CommandRecord } from '#lib/bench/command.ts';
import { circuitWritten } from '#lib/bench/netlist-form.ts';
import { readBench } from '#lib/files/bench-file.ts';
import { isNetlist, isNetlistName, readNetlistFile } from '#lib/files/netlist-file.ts';
import { readTouchstone } from '#lib/files/touchstone-reader.ts';
import { faults } from './faults.ts';

/** What a dropped or chosen file turned out to be. */
export type OpenedFile =
	| { readonly kind: 'bench'; readonly document: BenchDocument }
	| {
			readonly kind: 'device';
			readonly command: CommandRecord;
			readonly notes: readonly string[];
			/** Where its data are; null for a circuit, which answers everywhere. */
			readonly band: Band | null;
	  };

/** Hz. */
export interface Band {
	readonly start: number;
	readonly stop: number;
}

const MEGABYTE = 1024 * 1024;
const LARGEST_FILE = 64 * MEGABYTE;

/** A netlist file as a device: without a data sheet, so that nothing is known to break it. */
function frontEndOf(text: string, file: string): OpenedFile {
	const { name, ...circuit } = readNetlistFile(text, file);
	return {
		kind: 'device',
		notes: ['Nothing is known of what breaks it.'],
		band: null,
		command: {
			name: 'import device',
			arguments: {
				device: {
					kind: 'circuit',
					name,
					origin: file.slice(0, 80),
					circuit: circuitWritten(circuit),
					limits: { inputPower: null, junctions: [] },
					transmitter: null,
					positions: {},
					ceilingChange: 0.01
				}
			}
		}
	};
}

/** Reads a Touchstone file or a netlist as a device, anything else as a bench file. @throws Fault saying what is wrong with it. */
export async function openFile(file: File): Promise<OpenedFile> {
	if (file.size > LARGEST_FILE)
		throw faults['file-size']({
			file: file.name,
			found: Math.round(file.size / MEGABYTE),
			allowed: LARGEST_FILE / MEGABYTE
		});
	if (!/\.(s\d+p|ya?ml|json)$/i.test(file.name)) throw faults['file-kind']({ file: file.name });
	const text = await file.text();
	if (isNetlist(text) || isNetlistName(file.name)) return frontEndOf(text, file.name);
	if (!/\.s\d+p$/i.test(file.name)) return { kind: 'bench', document: readBench(text, file.name) };
	const { data, notes } = readTouchstone(text, file.name);
	const name = file.name.slice(0, 80);
	return {
		kind: 'device',
		notes,
		band: { start: data.frequencies[0], stop: data.frequencies[data.frequencies.length - 1] },
		command: {
			name: 'import device',
			arguments: {
				device: {
					kind: 'tabulated',
					name,
					origin: name,
					data,
					ceiling: null,
					compression: null,
					absoluteMaximum: null
				}
			}
		}
	};
}

/** Offers text as a file to keep. */
export function saveText(text: string, name: string, type: string): void {
	const address = URL.createObjectURL(new Blob([text], { type }));
	const link = document.createElement('a');
	link.href = address;
	link.download = name;
	link.click();
	URL.revokeObjectURL(address);
}
