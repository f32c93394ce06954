import type { LostPoints, Silence } from '#lib/bench/picture.ts';
import { frequency, withUnit, whole } from './numbers.ts';

/** Why there is no reading at all. */
export function silenceWords(silence: Silence): string {
	switch (silence.kind) {
		case 'oscillating':
			return `No reading: the bench oscillates near ${withUnit(whole(silence.frequency / 1e6), 'MHz')} by itself.`;
		case 'transmitting':
			return 'No reading: the transmitter is keyed.';
		case 'broken':
			return 'No reading: what a broken device known only by its data sheet presents is not known.';
	}
}

/** Where there is no reading, of a sweep of so many points. */
export function lostWords({ count, frequency: first, reason }: LostPoints, points: number): string {
	const found = reason === 'unstable' ? 'no state that it stays in was found' : 'no state was found';
	const where = points === 1 ? 'at the one frequency' : `at ${count} of ${points} frequencies`;
	return `Of the device ${found} ${where}${points === 1 ? '' : ` from ${frequency(first)}`}: no reading there.`;
}
