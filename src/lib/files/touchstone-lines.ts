import { faults } from './faults.ts';

/** Where in which file: the blanks every complaint about a line fills. */
export interface TouchstonePlace {
	readonly [blank: string]: string | number;
	readonly file: string;
	readonly line: number;
}

export interface TouchstoneLine {
	readonly place: TouchstonePlace;
	/** Without comment and without white space at the ends; never empty. */
	readonly content: string;
}

/** Far more than nine numbers need, and short enough to be split without trouble. */
const LONGEST_LINE = 10_000;

/** At most `most` characters, none of them a control character, so that any bytes can be shown in a message. */
export function cleaned(text: string, most: number): string {
	const characters = Array.from(text.slice(0, 2 * most + 2), (c) => (/\p{C}/u.test(c) ? '?' : c));
	return characters.length > most ? `${characters.slice(0, most).join('')}…` : characters.join('');
}

/** What was found in a file, for a message. */
export const quoted = (found: string): string => `"${cleaned(found, 40)}"`;

/**
 * The lines that hold something, in order. Line ends may be LF, CR LF or CR; a byte order mark and everything
 * from "!" to the end of a line are left out. Lines are counted from 1.
 */
export function* contentLines(text: string, file: string): Generator<TouchstoneLine> {
	const end = /\r\n|\r|\n/g;
	let start = text.charCodeAt(0) === 0xfeff ? 1 : 0;
	for (let line = 1; start <= text.length; line++) {
		const found = end.exec(text);
		const content = text
			.slice(start, found ? found.index : text.length)
			.split('!', 1)[0]
			.trim();
		if (content.length > LONGEST_LINE)
			throw faults['touchstone-line-length']({ file, line, length: content.length, most: LONGEST_LINE });
		if (content !== '') yield { place: { file, line }, content };
		start = found ? end.lastIndex : text.length + 1;
	}
}

// The alternatives never overlap, so a long run of digits costs no backtracking.
const NUMBER = /^([+-]?(?:\d+(?:\.\d*)?|\.\d+))(?:[ed]([+-]?\d+))?$/i;

/**
 * The number written in `word`, times 10^`power`, correctly rounded as if it had been written so. Exponents may be
 * marked with E or, as Fortran does, with D. −0 becomes 0.
 * Throws a Fault for a word that is no number, and for one too large to hold; one too small becomes 0.
 */
export function readNumber(word: string, place: TouchstonePlace, power = 0): number {
	const parts = NUMBER.exec(word);
	if (!parts) throw faults['touchstone-number']({ ...place, found: quoted(word) });
	// Held within bounds that no line can make up for, so that the exponent itself is never written with an exponent.
	const exponent = Math.max(-100_000, Math.min(100_000, Number(parts[2] ?? 0)));
	const value = Number(`${parts[1]}e${exponent + power}`) + 0;
	if (!Number.isFinite(value)) throw faults['touchstone-number-range']({ ...place, found: quoted(word) });
	return value;
}
