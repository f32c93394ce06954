import type { Picture, PictureMarker } from '#lib/bench/picture.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { frequency, level } from '#lib/view/numbers.ts';
import { lostWords, silenceWords } from '#lib/view/silence.ts';

/** Why there is no reading, in a few words and in full. */
export interface NoReading {
	/** After "no reading: ", in a table. */
	readonly short: string;
	readonly clause: string;
	readonly words: string;
}

/** Why one marker, or the whole bench, has no reading; null if it has one. */
export function noReading(setup: Setup, picture: Picture, marker: PictureMarker): NoReading | null {
	const { silence, lost } = picture;
	if (silence !== null) return { clause: silenceWords(silence), ...reasonFor(silence, setup) };
	if (lost === null || !Number.isNaN(marker.reading.gamma.re)) return null;
	return {
		short: lost.reason === 'unstable' ? 'no state it stays in' : 'no state found',
		clause: 'No reading at this frequency.',
		words: `${lostWords(lost, picture.frequencies.length)} Less level helps.`
	};
}

function reasonFor(
	silence: NonNullable<Picture['silence']>,
	{ device }: Setup
): { short: string; words: string } {
	switch (silence.kind) {
		case 'oscillating':
			return {
				short: `the bench oscillates near ${frequency(silence.frequency)}`,
				words:
					'What the receiver hears is the oscillation, not an echo. Another termination of the output helps, or ' +
					'another length of line; with its supply off the device is quiet.'
			};
		case 'transmitting':
			return {
				short: 'the transmitter is keyed',
				words: `${level(silence.level, 1)} of it meets the reflectometer’s port, and beside that no echo can be heard.`
			};
		case 'broken':
			return {
				short: 'the device is broken',
				words: `Replace ${device.name} to read again; Undo does not mend it.`
			};
	}
}

/** The frequencies without a reading, in words; null if there are none. */
export const lostElsewhere = ({ lost, frequencies }: Picture): string | null =>
	lost === null ? null : lostWords(lost, frequencies.length);
