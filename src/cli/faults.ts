import { catalogue } from '#lib/fault.ts';

/** What can be wrong with a command line and the files it names. */
export const faults = catalogue({
	'command-line-command': {
		place: 'the command line',
		finding: 'There is no command "{found}".',
		remedy: '{suggestion} "faint-echo help" lists them all.'
	},
	'command-line-option': {
		place: 'command {command}',
		finding: 'There is no option "{found}".',
		remedy: '{suggestion} "faint-echo {command} --help" lists them all.'
	},
	'command-line-value-missing': {
		place: 'command {command}, --{option}',
		finding: 'Nothing follows it.',
		remedy: 'Give it a value: --{option} {value}.'
	},
	'command-line-value-extra': {
		place: 'command {command}, --{option}',
		finding: 'It was given the value "{found}".',
		remedy: 'It is a switch: write --{option} alone.'
	},
	'command-line-twice': {
		place: 'command {command}, --{option}',
		finding: 'It is given twice.',
		remedy: 'Keep the one that is meant.'
	},
	'command-line-file-missing': {
		place: 'command {command}',
		finding: 'No file is named.',
		remedy: 'Name it: faint-echo {command} {takes}.'
	},
	'command-line-file-extra': {
		place: 'command {command}',
		finding: 'There are {count} file names, "{found}" among them.',
		remedy: 'Give one; a name with spaces needs quotation marks.'
	},
	'command-line-file-none': {
		place: 'command {command}',
		finding: 'It was given the file "{found}".',
		remedy: 'It takes none: write faint-echo {command}.'
	},
	'command-line-quantity': {
		place: 'command {command}, --{option}',
		finding: 'Found "{found}".',
		remedy: 'Give a value from {from} to {to}.'
	},
	'command-line-levels': {
		place: 'command {command}, --{option}',
		finding: 'Found "{found}".',
		remedy: 'Give one level, such as "-20 dBm", or two with two dots between them, such as "-60..0 dBm".'
	},
	'command-line-levels-order': {
		place: 'command {command}, --{option}',
		finding: 'Found "{found}", with the higher level first.',
		remedy: 'Give the lower level first: {example}.'
	},
	'command-line-missing': {
		place: 'command {command}, --{option}',
		finding: 'It is not given{why}.',
		remedy: 'Add it, such as --{option} {example}.'
	},
	'command-line-alone': {
		place: 'command {command}, --{option}',
		finding: 'It is given without --{other}, on which it depends.',
		remedy: 'Add --{other}, or leave it out.'
	},
	'command-line-points': {
		place: 'command {command}',
		finding: 'Frequencies and levels together make {found} driven points.',
		remedy: 'Ask for at most {allowed} at a time.'
	},
	'command-line-set': {
		place: 'command {command}, --set',
		finding: 'Found "{found}".',
		remedy: 'Give a switch and its position, such as supply=off, and several with commas between.'
	},
	'command-line-number': {
		place: 'command {command}, --{option}',
		finding: 'Found "{found}".',
		remedy: 'Give a whole number from {from} to {to}.'
	},
	'file-name-empty': {
		place: 'a file name',
		finding: 'The name is empty.',
		remedy: 'Give the path of a file; a variable that was meant to hold it may be unset.'
	},
	'file-missing': {
		place: '{file}',
		finding: 'There is no such file.',
		remedy: 'Check the path; it is taken from the folder the command is run in.'
	},
	'file-folder': {
		place: '{file}',
		finding: 'This is not a file but a folder or a device.',
		remedy: 'Name a file in it.'
	},
	'file-unreadable': {
		place: '{file}',
		finding: 'The file cannot be read ({problem}).',
		remedy: 'Check who may read it.'
	},
	'file-large': {
		place: '{file}',
		finding: 'The file holds {found} bytes.',
		remedy: 'At most {allowed} are read. Export fewer frequencies.'
	},
	'file-unwritable': {
		place: '{file}',
		finding: 'The file cannot be written ({problem}).',
		remedy: 'Choose a folder that exists and that you may write to.'
	},
	'file-own-input': {
		place: '{file}',
		finding: 'This is the file the bench was read from.',
		remedy: 'Choose another name for the readings, so that the bench is kept.'
	},
	'file-ending': {
		place: '{file}',
		finding: 'The end of the name does not say what to write.',
		remedy: 'End it in .s1p, .csv or .json.'
	},
	'netlist-alone': {
		place: '{file}',
		finding: 'This is a netlist: a circuit alone, without a bench around it.',
		remedy: 'The command "circuit" solves it, such as: faint-echo circuit {file} --from 160MHz --to 180MHz.'
	},
	'circuit-json': {
		place: '{file}',
		finding: 'The file cannot be read as JSON: {problem}.',
		remedy: 'Mend it there; a netlist in YAML ends in .yaml.'
	},
	'raw-syntax': {
		place: '{file}{line}',
		finding: 'The file cannot be read as JSON: {problem}.',
		remedy: 'Mend it there; numbers have a decimal point, and JSON has no NaN and no Infinity.'
	},
	'raw-value': {
		place: '{file}, {path}',
		finding: 'Found {found}.',
		remedy: '{allowed}'
	},
	'raw-length': {
		place: '{file}, raw.{name}',
		finding: 'It has {found} readings, and there are {expected} frequencies.',
		remedy: 'Give one reading [re, im] for each frequency.'
	}
});
