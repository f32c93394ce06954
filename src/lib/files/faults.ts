import { catalogue } from '#lib/fault.ts';

/** What can be wrong with a file that is read or written. */
export const faults = catalogue({
	'touchstone-size': {
		place: '{file}',
		finding: 'The file has {length} characters; at most {most} are read.',
		remedy: 'Export fewer frequencies, or cut the file into bands.'
	},
	'touchstone-line-length': {
		place: '{file}, line {line}',
		finding: 'The line has {length} characters; at most {most} are read.',
		remedy: 'Check that this is a Touchstone file and that each frequency begins on a new line.'
	},
	'touchstone-ports': {
		place: '{file}',
		finding: 'The name ends in "{ending}": a network of {ports} ports.',
		remedy:
			'Only one-ports (.s1p) and two-ports (.s2p) are read; export the port or the pair of ports you need.'
	},
	'touchstone-ports-unknown': {
		place: '{file}, line {line}',
		finding:
			'The name does not end in .s1p or .s2p, and the first row of data holds {count} values, so the number of ports is unknown.',
		remedy: 'Rename the file to end in .s1p or .s2p.'
	},
	'touchstone-misnamed': {
		place: '{file}, line {line}',
		finding:
			'The file is taken for a {kind} because {reason}, but its rows have {count} values, as a {other} has.',
		remedy: 'If it is a {other}, rename the file to end in {ending}; otherwise export it again.'
	},
	'touchstone-version': {
		place: '{file}, line {line}',
		finding: '{found} is a keyword of Touchstone version 2.',
		remedy: 'Only version 1 is read at present: export the file as version 1 (1.0 or 1.1).'
	},
	'touchstone-option-late': {
		place: '{file}, line {line}',
		finding: 'The option line {found} comes after the first data, on line {first}.',
		remedy: 'Move the option line above the data.'
	},
	'touchstone-option-word': {
		place: '{file}, line {line}',
		finding: 'The option line holds {found}, which is no unit, parameter, format or R.',
		remedy: 'Write the line like "# MHz S RI R 50": Hz, kHz, MHz or GHz; S, Z or Y; MA, DB or RI.'
	},
	'touchstone-option-twice': {
		place: '{file}, line {line}',
		finding: 'The option line gives the {kind} twice, the second time as {found}.',
		remedy: 'Keep the one that is right.'
	},
	'touchstone-parameter': {
		place: '{file}, line {line}',
		finding: 'The option line announces hybrid parameters ({found}).',
		remedy: 'Only S, Z and Y parameters are read: export the file as S parameters.'
	},
	'touchstone-resistance': {
		place: '{file}, line {line}',
		finding: 'The reference resistance after R is {found}.',
		remedy: 'Write a number of ohms above zero, such as "R 50".'
	},
	'touchstone-resistance-per-port': {
		place: '{file}, line {line}',
		finding: 'The reference resistance {first} is followed by a second one, {found}.',
		remedy:
			'Only one reference resistance for all ports is read: export the file with the same one at every port.'
	},
	'touchstone-number': {
		place: '{file}, line {line}',
		finding: '{found} is not a number that can be used.',
		remedy: 'Write numbers with a decimal point, separated by spaces; comments begin with "!".'
	},
	'touchstone-number-range': {
		place: '{file}, line {line}',
		finding: '{found} is outside the range of numbers this program can hold.',
		remedy: 'Check the value; the file may be damaged.'
	},
	'touchstone-columns': {
		place: '{file}, line {line}',
		finding:
			'The row begun on line {start} has {count} values with this line; a {kind} takes {needed} for each frequency: the frequency and {pairs}.',
		remedy: 'Begin each frequency on a new line and check that no value is missing or too many.'
	},
	'touchstone-incomplete': {
		place: '{file}, line {line}',
		finding: 'The file ends in the middle of a row: {count} of the {needed} values of a {kind} are there.',
		remedy: 'The file may be cut off: export it again, or remove the last row.'
	},
	'touchstone-frequency-negative': {
		place: '{file}, line {line}',
		finding: 'The frequency is {found}.',
		remedy: 'Give frequencies from zero up.'
	},
	'touchstone-frequency-order': {
		place: '{file}, line {line}',
		finding: 'The frequency {found} is not above the one of the row before, on line {before}.',
		remedy: 'Sort the rows so that the frequency rises from row to row, and keep each frequency once.'
	},
	'touchstone-too-many': {
		place: '{file}, line {line}',
		finding: 'The file has more than {most} frequencies.',
		remedy: 'Export fewer frequencies, or cut the file into bands.'
	},
	'touchstone-empty': {
		place: '{file}',
		finding: 'The file holds no data.',
		remedy: 'Give at least one row: a frequency and its values.'
	},
	'touchstone-noise': {
		place: '{file}, line {line}',
		finding:
			'The frequency stopped rising on line {start}, where noise parameters begin in rows of 5 values; this row has {count}.',
		remedy:
			'If line {start} is not noise data, sort the rows by frequency; otherwise mend or remove this row.'
	},
	'touchstone-magnitude': {
		place: '{file}, line {line}',
		finding: 'The magnitude {found} is negative.',
		remedy: 'If the values are decibels, write DB instead of MA in the option line.'
	},
	'touchstone-value-size': {
		place: '{file}, line {line}',
		finding: 'An entry has the magnitude {found}; at most {most} can be used.',
		remedy: 'Check the value and the format (MA, DB or RI) in the option line.'
	},
	'touchstone-conversion': {
		place: '{file}, line {line}',
		finding:
			'The {parameter} parameters of this row, given at {reference} Ω, cannot be turned into S parameters at 50 Ω.',
		remedy: 'Check the values, or export the file as S parameters at 50 Ω.'
	},
	'touchstone-write': {
		place: 'Touchstone export, frequency number {row}',
		finding: 'A value is {found}.',
		remedy: 'Leave out readings that are not valid and export again.'
	},
	'netlist-size': {
		place: '{file}',
		finding: 'The file holds {found} characters.',
		remedy: 'A netlist file may hold at most {allowed}. Leave out what the input does not depend on.'
	},
	'netlist-text': {
		place: '{file}, line {line}',
		finding: 'This is not a text file: it holds control characters.',
		remedy: 'Choose a netlist file, which is plain text.'
	},
	'netlist-syntax': {
		place: '{file}, line {line}',
		finding: 'The file is not readable as YAML: {problem}.',
		remedy: 'Mend that line.'
	},
	'netlist-kind': {
		place: '{file}',
		finding: 'This is not a netlist file: it has no line "faint echo netlist: 1". It begins with {found}.',
		remedy: 'Write that line first, then name, elements and ports.'
	},
	'netlist-version': {
		place: '{file}, version',
		finding: 'The netlist file has version {found}; this program reads version {allowed}.',
		remedy: 'Open it with the program it was written for, or a newer Faint Echo.'
	},
	'netlist-value': {
		place: '{file}, {path} (line {line})',
		finding: 'Found {found}.',
		remedy: '{allowed}'
	},
	'netlist-circuit': {
		place: '{file}, {place} (line {line})',
		finding: '{finding}',
		remedy: '{remedy}'
	},
	'csv-lengths': {
		place: 'CSV export, column "{name}"',
		finding: 'The column has {count} values where the first column has {expected}.',
		remedy: 'Give every column the same number of values.'
	}
});
