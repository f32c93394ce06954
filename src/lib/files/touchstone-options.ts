import { faults } from './faults.ts';
import { quoted, readNumber } from './touchstone-lines.ts';
import type { TouchstonePlace } from './touchstone-lines.ts';

export type FrequencyUnit = 'Hz' | 'kHz' | 'MHz' | 'GHz';
export type NetworkParameter = 'S' | 'Z' | 'Y';
/** Pairs of magnitude and angle, decibels and angle, or real and imaginary part; angles in degrees. */
export type PairFormat = 'MA' | 'DB' | 'RI';

/** What the option line says: `# <unit> <parameter> <format> R <ohms>`. */
export interface TouchstoneOptions {
	readonly unit: FrequencyUnit;
	readonly parameter: NetworkParameter;
	readonly format: PairFormat;
	/** Reference resistance in ohms, the same at every port. */
	readonly resistance: number;
}

/** What holds for everything the option line leaves out (Touchstone specification 1.1, "Option Line"). */
export const DEFAULT_OPTIONS: TouchstoneOptions = {
	unit: 'GHz',
	parameter: 'S',
	format: 'MA',
	resistance: 50
};

export const POWER_OF_TEN: Readonly<Record<FrequencyUnit, number>> = { Hz: 0, kHz: 3, MHz: 6, GHz: 9 };

const WORDS = new Map<string, Partial<TouchstoneOptions>>([
	['HZ', { unit: 'Hz' }],
	['KHZ', { unit: 'kHz' }],
	['MHZ', { unit: 'MHz' }],
	['GHZ', { unit: 'GHz' }],
	['S', { parameter: 'S' }],
	['Z', { parameter: 'Z' }],
	['Y', { parameter: 'Y' }],
	['MA', { format: 'MA' }],
	['DB', { format: 'DB' }],
	['RI', { format: 'RI' }]
]);

const NAMES: Readonly<Record<keyof TouchstoneOptions, string>> = {
	unit: 'frequency unit',
	parameter: 'parameter',
	format: 'format',
	resistance: 'reference resistance'
};

function readResistance(word: string | undefined, place: TouchstonePlace): number {
	if (word === undefined) throw faults['touchstone-resistance']({ ...place, found: 'missing' });
	if (!/^[-+.\d]/.test(word)) throw faults['touchstone-resistance']({ ...place, found: quoted(word) });
	const value = readNumber(word, place);
	if (value <= 0) throw faults['touchstone-resistance']({ ...place, found: quoted(word) });
	return value;
}

/**
 * Reads an option line, "#" included: its parts in any order and any case, each at most once.
 * Throws a Fault for an unknown word, a part given twice, hybrid parameters, and a reference resistance that is
 * missing, not above zero or given port by port.
 */
export function readOptionLine(content: string, place: TouchstonePlace): TouchstoneOptions {
	const words = content.slice(1).trim().split(/\s+/);
	if (words[0] === '') return DEFAULT_OPTIONS;
	let given: Partial<TouchstoneOptions> = {};
	for (let i = 0; i < words.length; i++) {
		const upper = words[i].toUpperCase();
		const found = quoted(words[i]);
		if (upper === 'H' || upper === 'G') throw faults['touchstone-parameter']({ ...place, found });
		const part = upper === 'R' ? { resistance: readResistance(words[i + 1], place) } : WORDS.get(upper);
		if (!part) throw faults['touchstone-option-word']({ ...place, found });
		const key = Object.keys(part)[0] as keyof TouchstoneOptions;
		if (key in given) throw faults['touchstone-option-twice']({ ...place, kind: NAMES[key], found });
		given = { ...given, ...part };
		if (upper !== 'R') continue;
		i++;
		if (/^[-+.\d]/.test(words[i + 1] ?? ''))
			throw faults['touchstone-resistance-per-port']({
				...place,
				first: words[i],
				found: quoted(words[i + 1])
			});
	}
	return { ...DEFAULT_OPTIONS, ...given };
}
