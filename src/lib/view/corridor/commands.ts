import type { CommandRecord } from '#lib/bench/command.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';

/** What the handles in the picture ask the bench to do. */

/** The settings of a pad and of the extension go this far (the setup's own limits, at whole steps). */
export const MOST_ATTENUATION = 80;
const MOST_DELAY = 1e-7;

export const within = (value: number, from: number, to: number): number =>
	Math.min(to, Math.max(from, value));

/** Attenuation in dB. */
export const setAttenuation = (part: string, attenuation: number): CommandRecord => ({
	name: 'set part',
	arguments: { part, attenuation: formatQuantity(within(attenuation, 0, MOST_ATTENUATION), 'attenuation') }
});

/** Delay in seconds, kept at whole tenths of a picosecond so that it is written without a tail of digits. */
export const setExtensionDelay = (delay: number): CommandRecord => ({
	name: 'set extension',
	arguments: {
		delay: formatQuantity(within(Number(`${(delay * 1e12).toFixed(1)}e-12`), -MOST_DELAY, MOST_DELAY), 'time')
	}
});
