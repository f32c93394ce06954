import { tinykeys } from 'tinykeys';
import type { PageApp } from './page-app.svelte.ts';

/** Every key of the page, for the list behind "?". Keys inside a control are described where the control is. */
export const keyList: readonly { readonly keys: string; readonly does: string }[] = [
	{ keys: 'Ctrl+Z', does: 'Undo the last change of the bench' },
	{ keys: 'Ctrl+Shift+Z Ctrl+Y', does: 'Redo' },
	{ keys: 'Space', does: 'Run or pause, while the bench has the focus' },
	{ keys: 'Left Right', does: 'Walk along the line, part by part' },
	{ keys: 'Enter', does: 'Open the tray of the part' },
	{ keys: 'Escape', does: 'Close the tray; give up a drag' },
	{ keys: 'Up Down', does: 'Change a value by one step; with Shift by ten' },
	{ keys: '?', does: 'Show this list' }
];

/** Whether an element uses plain keys itself. */
function takesKeys(target: EventTarget | null): boolean {
	return (
		target instanceof Element &&
		target.closest('input, textarea, select, button, a, summary, dialog, [role]') !== null
	);
}

const TEXT_FIELDS = 'textarea, input:is([type="text"], [type="search"])';

/** Listens for the page's keys. `single` tells whether single characters are heard. Returns what ends it. */
export function listenForKeys(app: PageApp, single: () => boolean, onhelp: () => void): () => void {
	const undo = (event: KeyboardEvent) => {
		// a text field has an undo of its own
		if (event.target instanceof Element && event.target.closest(TEXT_FIELDS)) return;
		event.preventDefault();
		if (event.shiftKey || event.key.toLowerCase() === 'y') app.bench.redo();
		else app.bench.undo();
	};
	return tinykeys(window, {
		'$mod+z': undo,
		'$mod+Shift+Z': undo,
		'$mod+y': undo,
		Space: (event) => {
			if (takesKeys(event.target)) return;
			event.preventDefault();
			app.bench.setRunning(!app.bench.running);
		},
		'Shift+?': (event) => {
			if (!single() || (event.target instanceof Element && event.target.closest('input, textarea'))) return;
			event.preventDefault();
			onhelp();
		}
	});
}
