import { decibels, fixed, frequency, level, ohms, signed, significant, withUnit } from '#lib/view/numbers.ts';
import type { DriveRow, DriveView } from './drive-view.ts';

/** The names of what is shown: changes from rest, or once the truth is revealed the values themselves. */
export const namesOf = ({ revealed }: Pick<DriveView, 'revealed'>) =>
	revealed
		? { resistance: 'R', reactance: 'X', gain: 'gain', title: 'R and X against level' }
		: { resistance: 'ΔR', reactance: 'ΔX', gain: 'Δ gain', title: 'Change of R and X against level' };

/** A figure in Ω; of a change with its sign, and two decimals while it is small. */
export function ohmsShown(value: number, revealed: boolean): string {
	if (Number.isNaN(value)) return 'not known';
	if (revealed) return ohms(value);
	return Math.abs(value) < 9.995 ? signed(value, 2) : value > 0 ? `+${ohms(value)}` : ohms(value);
}

export const gainShown = (value: number, revealed: boolean): string =>
	revealed ? fixed(value, 2) : signed(value, 2);

export const movedShown = (value: number): string => (Number.isNaN(value) ? 'not known' : fixed(value, 4));

/** One row in words. */
function rowWords({ resistance, reactance, gain, moved }: DriveRow, view: DriveView): string {
	const { revealed } = view;
	const names = namesOf(view);
	const parts = [
		`${names.resistance} is ${withUnit(ohmsShown(resistance, revealed), 'Ω')}`,
		`${names.reactance} ${withUnit(ohmsShown(reactance, revealed), 'Ω')}`,
		...(gain === null ? [] : [`${names.gain} ${withUnit(gainShown(gain, revealed), 'dB')}`])
	];
	return `${parts.join(', ')}, and |ΔΓ| ${movedShown(moved)}`;
}

/** Which comes first as the level rises: that the impedance has moved, or that the gain has fallen. */
export function orderWords({ ceiling, compression, change, rest }: DriveView): string {
	const moved =
		ceiling === null
			? `|ΔΓ| stays under ${significant(change)}`
			: `|ΔΓ| reaches ${significant(change)} at ${level(ceiling, 1)}`;
	if (rest.gain === null) return `${moved}.`;
	if (compression === null) return `${moved}; the gain does not fall by 1\u00a0dB.`;
	const lost = `1\u00a0dB of gain is lost at ${level(compression, 1)}`;
	if (ceiling === null) return `${moved}; ${lost}.`;
	const apart = compression - ceiling;
	if (Math.abs(apart) < 0.05) return `${moved}; ${lost}: both at once.`;
	return apart > 0
		? `${moved}; ${lost}: the impedance moves ${decibels(apart)} before the gain.`
		: `${moved}; ${lost}: the gain goes ${decibels(-apart)} before the impedance.`;
}

/** The picture in words. */
export function driveSummary(view: DriveView, hertz: number, device: string): string {
	const { rows, now, breaking } = view;
	const from = rows[0].level;
	const to = rows[rows.length - 1].level;
	const sentences = [
		`${namesOf(view).title} of ${device} at ${frequency(hertz)}, from ${level(from, 0)} to ${level(to, 0)} at the device` +
			`${view.revealed ? '' : ', counted from rest'}.`,
		now
			? `At the present level of ${level(now.level)} ${rowWords(now, view)}.`
			: 'At the present level no state is known.',
		orderWords(view),
		...(breaking === null ? [] : [`It breaks at ${level(breaking, 1)}.`])
	];
	return sentences.join(' ');
}
