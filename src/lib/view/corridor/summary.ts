import type { Picture } from '#lib/bench/picture.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { decibels, frequency, level } from '#lib/view/numbers.ts';

/** Said wherever a tabulated device is driven above its ceiling. */
export const NOT_VALID =
	'The reading is not valid there: what the device does above its ceiling is not known.';

export const isBeyondData = (setup: Setup, ceilingMargin: number | null): boolean =>
	setup.device.kind === 'tabulated' && ceilingMargin !== null && ceilingMargin < 0;

/** The picture in one sentence for those who do not see it, and one more where the reading is not valid. */
export function summaryOf(setup: Setup, picture: Picture | null, marker: 0 | 1 | 2): string {
	const names = ['Reflectometer', ...setup.parts.map((p) => p.name), setup.device.name].join(', ');
	if (picture === null) return `The line: ${names}. The levels are being worked out.`;
	const { levels, reading } = picture.markers[marker];
	const last = levels.outgoing.length - 1;
	const returning =
		levels.returning[last] === -Infinity
			? 'nothing returns from the device'
			: `the returning level goes from ${level(levels.returning[last])} to ${level(levels.returning[0])} ` +
				`at the receiver, ${floorWords(levels.floorMargin)} its floor of ${level(levels.floor[0], 1)}`;
	const sentence =
		`The line and, under it, the corridor at ${frequency(reading.frequency)}. ${names}: ` +
		`the outgoing level goes from ${level(levels.outgoing[0])} to ${level(levels.outgoing[last])} at the device` +
		`${ceilingWords(levels.ceilingMargin, levels.ceiling?.[last])}; ${returning}.`;
	return isBeyondData(setup, levels.ceilingMargin) ? `${sentence} ${NOT_VALID}` : sentence;
}

function ceilingWords(margin: number | null, ceiling: number | undefined): string {
	if (margin === null || ceiling === undefined) return '';
	return `, ${decibels(Math.abs(margin))} ${margin < 0 ? 'over' : 'below'} its ceiling of ${level(ceiling, 1)}`;
}

const floorWords = (margin: number): string =>
	`${decibels(Math.abs(margin))} ${margin < 0 ? 'under' : 'above'}`;
