import { faults } from './faults.ts';
import { cleaned, contentLines, quoted, readNumber } from './touchstone-lines.ts';
import type { TouchstoneLine, TouchstonePlace } from './touchstone-lines.ts';
import { DEFAULT_OPTIONS, POWER_OF_TEN, readOptionLine } from './touchstone-options.ts';
import type { TouchstoneOptions } from './touchstone-options.ts';

const MOST_CHARACTERS = 64 * 1024 * 1024;
const MOST_FREQUENCIES = 100_000;

/** One frequency: the numbers after it still in the file's format and column order. */
export interface TouchstoneRow {
	readonly place: TouchstonePlace;
	/** In hertz. */
	readonly frequency: number;
	readonly values: readonly number[];
}

/** The structure of a version 1 file, before the numbers get their meaning. */
export interface TouchstoneRows {
	readonly ports: 1 | 2;
	readonly portsFromName: boolean;
	readonly options: TouchstoneOptions;
	readonly hasOptionLine: boolean;
	/** Lines of option lines after the first, which are ignored. */
	readonly ignoredOptionLines: readonly number[];
	readonly rows: readonly TouchstoneRow[];
	/** Line where noise parameters begin; null without any. */
	readonly noiseFrom: number | null;
}

/** What has been read so far. A row is open from its first line until it has all its values. */
interface Progress {
	readonly named: 1 | 2 | null;
	ports: 1 | 2 | null;
	options: TouchstoneOptions | null;
	readonly ignoredOptionLines: number[];
	readonly rows: TouchstoneRow[];
	open: { place: TouchstonePlace; frequency: number; values: number[]; lines: number } | null;
	noiseFrom: number | null;
}

const KIND = { 1: 'one-port', 2: 'two-port' } as const;
const PAIRS = { 1: 'one pair', 2: 'four pairs' } as const;
const COLUMNS = { 1: 3, 2: 9 } as const;
const NOISE_COLUMNS = 5;

function portsInName(fileName: string, file: string): 1 | 2 | null {
	const ending = /\.s(\d{1,9})p$/i.exec(fileName);
	if (!ending) return null;
	const ports = Number(ending[1]);
	if (ports !== 1 && ports !== 2)
		throw faults['touchstone-ports']({ file, ending: ending[0], ports: ending[1] });
	return ports;
}

function portsInColumns(count: number, place: TouchstonePlace): 1 | 2 {
	if (count === COLUMNS[1]) return 1;
	if (count === COLUMNS[2]) return 2;
	throw faults['touchstone-ports-unknown']({ ...place, count });
}

function misnamed(kind: 1 | 2, place: TouchstonePlace, named: boolean) {
	const other = kind === 1 ? 2 : 1;
	return faults['touchstone-misnamed']({
		...place,
		kind: KIND[kind],
		other: KIND[other],
		ending: `.s${other}p`,
		count: COLUMNS[other],
		reason: named ? 'of the end of its name' : `its first row has ${COLUMNS[kind]} values`
	});
}

function takeOptionLine(progress: Progress, { place, content }: TouchstoneLine): void {
	const data = progress.rows[0] ?? progress.open;
	if (progress.options) progress.ignoredOptionLines.push(place.line);
	else if (data)
		throw faults['touchstone-option-late']({ ...place, found: quoted(content), first: data.place.line });
	else progress.options = readOptionLine(content, place);
}

/** Opens a row, unless the line belongs to the noise parameters after two-port data. */
function beginRow(progress: Progress, words: readonly string[], place: TouchstonePlace): void {
	const { unit } = progress.options ?? DEFAULT_OPTIONS;
	const frequency = readNumber(words[0], place, POWER_OF_TEN[unit]);
	const values = words.slice(1).map((word) => readNumber(word, place));
	const last = progress.rows.at(-1);
	const rising = !last || frequency > last.frequency;
	if (frequency < 0) throw faults['touchstone-frequency-negative']({ ...place, found: quoted(words[0]) });
	if (progress.ports === 2 && !rising && words.length === NOISE_COLUMNS) progress.noiseFrom ??= place.line;
	if (progress.noiseFrom !== null) {
		if (words.length === NOISE_COLUMNS) return;
		throw faults['touchstone-noise']({ ...place, start: progress.noiseFrom, count: words.length });
	}
	if (!rising)
		throw faults['touchstone-frequency-order']({
			...place,
			found: quoted(words[0]),
			before: last.place.line
		});
	progress.open = { place, frequency, values, lines: 0 };
}

/** Closes the open row if it is complete. `count` is the number of values on this line. */
function endRow(progress: Progress, ports: 1 | 2, count: number, place: TouchstonePlace): void {
	const { open } = progress;
	if (!open) return;
	const needed = COLUMNS[ports];
	const have = open.values.length + 1;
	open.lines++;
	// Three and three values could be the beginning of a two-port's row only if a pair were torn apart.
	const likeOnePort = ports === 2 && open.lines === 2 && count === COLUMNS[1] && have === 2 * COLUMNS[1];
	const likeTwoPort = ports === 1 && open.lines === 1 && count === COLUMNS[2];
	if (likeOnePort || likeTwoPort) throw misnamed(ports, open.place, progress.named !== null);
	if (have > needed)
		throw faults['touchstone-columns']({
			...place,
			start: open.place.line,
			count: have,
			kind: KIND[ports],
			needed,
			pairs: PAIRS[ports]
		});
	if (have < needed) return;
	if (progress.rows.length === MOST_FREQUENCIES)
		throw faults['touchstone-too-many']({ ...place, most: MOST_FREQUENCIES });
	progress.rows.push({ place: open.place, frequency: open.frequency, values: open.values });
	progress.open = null;
}

function takeData(progress: Progress, { place, content }: TouchstoneLine): void {
	const words = content.split(/\s+/);
	if (progress.open) for (const word of words) progress.open.values.push(readNumber(word, place));
	else beginRow(progress, words, place);
	progress.ports ??= portsInColumns(words.length, place);
	endRow(progress, progress.ports, words.length, place);
}

function unfinished({ ports, open, named }: Progress, file: string) {
	if (!ports || !open) return faults['touchstone-empty']({ file });
	const count = open.values.length + 1;
	if (ports === 2 && open.lines === 1 && count === COLUMNS[1]) return misnamed(2, open.place, named !== null);
	return faults['touchstone-incomplete']({ ...open.place, count, needed: COLUMNS[ports], kind: KIND[ports] });
}

/**
 * The rows of a Touchstone version 1 file (IBIS Open Forum, Touchstone File Format Specification, revision 1.1).
 * The number of ports comes from the end of the file name, or from the first row if the name does not say.
 * A row begins on a new line and may be spread over several. Frequencies must rise; where they stop rising in rows
 * of five values after two-port data, noise parameters begin, which are checked but not kept.
 * Throws a Fault naming file and line for everything else.
 */
export function readRows(text: string, fileName: string): TouchstoneRows {
	const file = cleaned(fileName, 120);
	if (text.length > MOST_CHARACTERS)
		throw faults['touchstone-size']({ file, length: text.length, most: MOST_CHARACTERS });
	const named = portsInName(fileName, file);
	const progress: Progress = {
		named,
		ports: named,
		options: null,
		ignoredOptionLines: [],
		rows: [],
		open: null,
		noiseFrom: null
	};
	for (const line of contentLines(text, file)) {
		if (line.content.startsWith('['))
			throw faults['touchstone-version']({ ...line.place, found: quoted(line.content) });
		if (line.content.startsWith('#')) takeOptionLine(progress, line);
		else takeData(progress, line);
	}
	const { ports, options, ignoredOptionLines, rows, open, noiseFrom } = progress;
	if (!ports || open || rows.length === 0) throw unfinished(progress, file);
	return {
		ports,
		portsFromName: named !== null,
		options: options ?? DEFAULT_OPTIONS,
		hasOptionLine: options !== null,
		ignoredOptionLines,
		rows,
		noiseFrom
	};
}
