import { catalogue } from '#lib/fault.ts';

/** What can be wrong with a file before anyone reads it. */
export const faults = catalogue({
	'file-size': {
		place: '{file}',
		finding: 'The file holds {found} MB.',
		remedy: 'A file may hold at most {allowed} MB; the bench you had is kept.'
	},
	'transmitter-asked': {
		place: 'transmitter',
		finding: 'Undo and Redo do not key it.',
		remedy: 'Key it in the tray of the device, where you are told first what it would do.'
	},
	'file-kind': {
		place: '{file}',
		finding: 'Its name does not say that it is a file for the bench.',
		remedy:
			'Choose a Touchstone file (.s1p or .s2p) or a netlist (.yaml) for a device, or a saved bench (.yaml).'
	}
});
