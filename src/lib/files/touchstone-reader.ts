import type { NetworkData } from '#lib/network/network-data.ts';
import { complex, magnitude, polar } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { ratioFromDb } from '#lib/numeric/decibel.ts';
import { faults } from './faults.ts';
import type { TouchstonePlace } from './touchstone-lines.ts';
import type { PairFormat, TouchstoneOptions } from './touchstone-options.ts';
import { renormalised, scatteringFrom } from './touchstone-parameters.ts';
import type { PortMatrix } from './touchstone-parameters.ts';
import { readRows } from './touchstone-rows.ts';
import type { TouchstoneRow, TouchstoneRows } from './touchstone-rows.ts';

export interface TouchstoneReading {
	readonly data: NetworkData;
	/** What the reader did beyond copying numbers, and what looks odd, a sentence each. */
	readonly notes: string[];
}

const REFERENCE = 50;

/** Still squared without overflow, and beyond any open or short anyone writes down. */
const LARGEST_ENTRY = 1e30;

/** Room for a magnitude of 1 rounded in the file: full reflection is passive. */
const PASSIVE = 1 + 1e-6;

function complexOf(first: number, second: number, format: PairFormat, place: TouchstonePlace): Complex {
	if (format === 'MA' && first < 0) throw faults['touchstone-magnitude']({ ...place, found: first });
	const value =
		format === 'RI'
			? complex(first, second)
			: polar(format === 'DB' ? ratioFromDb(first) : first, ((second % 360) * Math.PI) / 180);
	const size = magnitude(value);
	if (!(size <= LARGEST_ENTRY))
		throw faults['touchstone-value-size']({
			...place,
			found: format === 'DB' ? `${first} dB` : size,
			most: LARGEST_ENTRY
		});
	return value;
}

/** The matrix of a row, S at 50 Ω, row by row. In a file, 21 comes before 12. */
function scatteringOf({ values, place }: TouchstoneRow, options: TouchstoneOptions): PortMatrix {
	const { parameter, format, resistance } = options;
	const pair = (i: number): Complex => complexOf(values[2 * i], values[2 * i + 1], format, place);
	const matrix = values.length === 2 ? [pair(0)] : [pair(0), pair(2), pair(1), pair(3)];
	const s = scatteringFrom(parameter, matrix);
	const at50 = s && renormalised(s, resistance, REFERENCE);
	if (!at50 || !at50.every((entry) => magnitude(entry) <= LARGEST_ENTRY))
		throw faults['touchstone-conversion']({ ...place, parameter, reference: resistance });
	return at50;
}

const NAMES = { Z: 'Impedance', Y: 'Admittance' } as const;

function notesOn(file: TouchstoneRows): string[] {
	const { options, ignoredOptionLines, ports, noiseFrom } = file;
	const notes: string[] = [];
	if (!file.portsFromName)
		notes.push(`The name does not end in .s1p or .s2p; read as a ${ports}-port from its columns.`);
	if (!file.hasOptionLine) notes.push('There is no option line; read as "# GHz S MA R 50".');
	if (ignoredOptionLines.length > 0)
		notes.push(
			`Only the first option line counts; ignored on line ${ignoredOptionLines.slice(0, 5).join(', ')}.`
		);
	if (options.parameter !== 'S')
		notes.push(
			`${NAMES[options.parameter]} parameters, normalised to ${options.resistance} Ω as version 1 files define, were turned into S parameters.`
		);
	if (options.resistance !== REFERENCE)
		notes.push(`The reference resistance was changed from ${options.resistance} Ω to ${REFERENCE} Ω.`);
	if (noiseFrom !== null) notes.push(`Noise parameters from line ${noiseFrom} on were left out.`);
	return notes;
}

/**
 * Reads a one-port or two-port from the text of a Touchstone version 1 file (IBIS Open Forum, Touchstone File Format
 * Specification, revision 1.1). `fileName` tells the number of ports (.s1p, .s2p) and is named in messages.
 * Units Hz to GHz, formats MA, DB, RI, parameters S, Z, Y; Z and Y are normalised to the reference resistance, as
 * version 1 defines. The result is S at 50 Ω, frequencies in Hz, every number finite.
 * A reflection above 1 is kept and noted: active devices have it. Noise parameters are left out with a note.
 * Throws a Fault naming file, line, finding and remedy for anything that cannot be read with certainty.
 */
export function readTouchstone(text: string, fileName: string): TouchstoneReading {
	const file = readRows(text, fileName);
	const notes = notesOn(file);
	const s: number[] = [];
	const active: number[] = [];
	for (const row of file.rows) {
		const matrix = scatteringOf(row, file.options);
		for (const entry of matrix) s.push(entry.re, entry.im);
		if (magnitude(matrix[0]) > PASSIVE || (file.ports === 2 && magnitude(matrix[3]) > PASSIVE))
			active.push(row.place.line);
	}
	if (active.length > 0)
		notes.push(
			`At ${active.length} of ${file.rows.length} frequencies, first on line ${active[0]}, more is reflected than arrives: an active device, or a damaged file.`
		);
	return { data: { ports: file.ports, frequencies: file.rows.map((row) => row.frequency), s }, notes };
}
