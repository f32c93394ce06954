import type { BenchDocument, CommandRecord } from '#lib/bench/command.ts';
import { Fault } from '#lib/fault.ts';
import { readBench } from '#lib/files/bench-file.ts';
import { readTouchstone } from '#lib/files/touchstone-reader.ts';

/** What a dropped or chosen file turned out to be. */
export type OpenedFile =
	| { readonly kind: 'bench'; readonly document: BenchDocument }
	| {
			readonly kind: 'device';
			readonly command: CommandRecord;
			readonly notes: readonly string[];
			readonly band: Band;
	  };

/** Hz. */
export interface Band {
	readonly start: number;
	readonly stop: number;
}

const LARGEST_FILE = 64 * 1024 * 1024;

/** Reads a Touchstone file as a device, anything else as a bench file. @throws Fault saying what is wrong with it. */
export async function openFile(file: File): Promise<OpenedFile> {
	if (file.size > LARGEST_FILE)
		throw new Fault(
			'file-size',
			file.name,
			`The file holds ${Math.round(file.size / 1e6)} MB.`,
			'A file may hold at most 64 MB; the bench you had is kept.'
		);
	if (!/\.(s\d+p|ya?ml|json)$/i.test(file.name))
		throw new Fault(
			'file-kind',
			file.name,
			'Its name does not say that it is a file for the bench.',
			'Choose a Touchstone file (.s1p or .s2p) for a device, or a saved bench (.yaml).'
		);
	const text = await file.text();
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
