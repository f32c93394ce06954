import { catalogue } from '#lib/fault.ts';

/** What can be wrong with a bench, in the user's words. */
export const faults = catalogue({
	'quantity-number': {
		place: '{place}',
		finding: '"{found}" is not a number with a unit.',
		remedy: 'Write it like {example}.'
	},
	'quantity-comma': {
		place: '{place}',
		finding: '"{found}" has a decimal comma.',
		remedy: 'Write a decimal point: {point}.'
	},
	'quantity-case': {
		place: '{place}',
		finding:
			'The unit "{unit}" in "{found}" is written with the wrong capitals, and capitals change its size.',
		remedy: 'If you mean {meant}, write {meant}.'
	},
	'quantity-unit-missing': {
		place: '{place}',
		finding: '"{found}" has no unit.',
		remedy: 'Add one of: {allowed}.'
	},
	'quantity-unit': {
		place: '{place}',
		finding: '"{unit}" in "{found}" is not a unit of {kind}.',
		remedy: 'Use one of: {allowed}.'
	},
	'bench-syntax': {
		place: '{file}, line {line}',
		finding: 'The file is not readable as YAML: {problem}.',
		remedy: 'Mend that line; the bench you had is kept.'
	},
	'bench-size': {
		place: '{file}',
		finding: 'The file holds {found} characters.',
		remedy: 'A bench file may hold at most {allowed}. Reduce an imported device to fewer frequencies.'
	},
	'bench-text': {
		place: '{file}, line {line}',
		finding: 'This is not a text file: it holds control characters.',
		remedy: 'Choose a bench file that Faint Echo saved; the bench you had is kept.'
	},
	'bench-kind': {
		place: '{file}',
		finding: 'This is not a bench file: it has no line "faint echo bench: 1". It begins with {found}.',
		remedy:
			'Choose a file that Faint Echo saved; a netlist has the line "faint echo netlist: 1", and a Touchstone file must ' +
			'end in .s1p or .s2p.'
	},
	'bench-version': {
		place: '{file}, version',
		finding: 'The bench file has version {found}; this program reads version {allowed}.',
		remedy: 'Open it with the program that wrote it, or a newer Faint Echo.'
	},
	'bench-value': {
		place: '{file}, {path} (line {line})',
		finding: 'Found {found}.',
		remedy: '{allowed}'
	},
	'setup-value': {
		place: '{path}',
		finding: 'Found {found}.',
		remedy: '{allowed}'
	},
	'command-unknown': {
		place: 'command "{name}"',
		finding: 'There is no such command.',
		remedy: 'Use one of: {allowed}.'
	},
	'command-arguments': {
		place: 'command "{name}", {path}',
		finding: 'Found {found}.',
		remedy: '{allowed}'
	},
	'part-unknown': {
		place: 'part "{id}"',
		finding: 'No part of this line has that name.',
		remedy: 'The line has: {allowed}.'
	},
	'part-setting': {
		place: 'part "{id}", {setting}',
		finding: 'A {kind} has no such setting.',
		remedy: 'It has: {allowed}.'
	},
	'part-count': {
		place: 'the line',
		finding: 'It already has {found} parts.',
		remedy: 'Remove one first; a line may have at most {allowed}.'
	},
	'device-ceiling': {
		place: 'device "{name}"',
		finding: 'An ideal load has no ceiling.',
		remedy: 'Choose a front end first.'
	},
	'device-ceiling-change': {
		place: 'device "{name}"',
		finding: 'Its circuit is not known, so no change of its reflection can be worked out.',
		remedy: 'Choose a front end of known circuit, or set the ceiling of its data sheet.'
	},
	'device-switch': {
		place: 'device "{name}"',
		finding: 'It has no switch "{switch}".',
		remedy: 'It has: {allowed}.'
	},
	'part-whole': {
		place: 'part "{part}"',
		finding: 'It is not broken.',
		remedy: 'Broken on this bench: {allowed}.'
	},
	'calibration-unknown': {
		place: 'calibration "{id}"',
		finding: 'No calibration of that name was made on this bench.',
		remedy: 'Use one of: {allowed}, or none.'
	},
	'calibration-plane': {
		place: 'calibration plane {plane}',
		finding: 'This line has planes 0 to {last}.',
		remedy: 'Choose one of them.'
	},
	'calibration-count': {
		place: 'calibration',
		finding: 'This bench holds {allowed} calibrations, as many as it can keep.',
		remedy: 'Use one of them, or go on with a new bench.'
	},
	'observable-unknown': {
		place: 'observable "{name}"',
		finding: 'The bench has nothing of that name to read.',
		remedy: 'Use one of: {allowed}.'
	},
	'observable-argument': {
		place: 'observable "{name}"',
		finding: 'It was asked for {found}.',
		remedy: '{allowed}'
	},
	'link-damaged': {
		place: 'share link',
		finding: 'The part after the # cannot be read: {problem}.',
		remedy: 'Copy the whole link again, or ask for the bench file. The bench you had is kept.'
	},
	'link-version': {
		place: 'share link',
		finding: 'The link was made by another version ({found}); this program reads {allowed}.',
		remedy: 'Ask for the bench file, or open the link with the program that made it.'
	},
	'link-long': {
		place: 'share link',
		finding: 'The bench needs {found} characters.',
		remedy: 'A link may have at most {allowed}. Save the bench file and share that.'
	}
});
