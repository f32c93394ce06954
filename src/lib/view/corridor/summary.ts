import type { LevelDiagram, Picture } from '#lib/bench/picture.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { decibels, frequency, level } from '#lib/view/numbers.ts';
import { lostWords, silenceWords } from '#lib/view/silence.ts';
import { levelsFor } from './layout.ts';

/** Said wherever a tabulated device is driven above its ceiling. */
export const NOT_VALID =
	'The reading is not valid there: what the device does above its ceiling is not known.';

export const isBeyondData = (setup: Setup, ceilingMargin: number | null): boolean =>
	setup.device.kind === 'tabulated' && ceilingMargin !== null && ceilingMargin < 0;

/** The picture in one sentence for those who do not see it, and one more where the reading is not valid or missing. */
export function summaryOf(setup: Setup, picture: Picture | null, marker: 0 | 1 | 2): string {
	const names = ['Reflectometer', ...setup.parts.map((p) => p.name), setup.device.name].join(', ');
	const levels = levelsFor(setup, picture, marker);
	if (picture === null || levels === null) return `The line: ${names}. The levels are being worked out.`;
	const last = levels.outgoing.length - 1;
	const walls = [
		levels.ceiling && levels.ceilingMargin !== null
			? `${ceilingWords(levels.ceilingMargin, 'its')} of ${level(levels.ceiling[last], 1)}`
			: null,
		levels.breaking && levels.breakingMargin !== null
			? `${breakingWords(levels.breakingMargin)}, ${level(levels.breaking[last], 1)}`
			: null
	].filter((words) => words !== null);
	const sentence =
		`The line and, under it, the corridor at ${frequency(picture.markers[marker].reading.frequency)}. ${names}: ` +
		`the outgoing level goes from ${level(levels.outgoing[0])} to ${level(levels.outgoing[last])} at the device` +
		`${walls.map((wall, k) => `${k === 0 ? ', ' : ' and '}${wall}`).join('')}; ${returningWords(levels)}.`;
	const missing = picture.silence
		? silenceWords(picture.silence)
		: picture.lost && Number.isNaN(levels.returnLossDb)
			? lostWords(picture.lost, picture.frequencies.length)
			: null;
	const beyond = isBeyondData(setup, levels.ceilingMargin) ? NOT_VALID : null;
	return [sentence, missing ?? beyond].filter((words) => words !== null).join(' ');
}

function returningWords(levels: LevelDiagram): string {
	const last = levels.outgoing.length - 1;
	if (Number.isNaN(levels.returnLossDb)) return 'what returns is not known';
	if (levels.returning[last] === -Infinity) return 'nothing returns from the device';
	const floor = `${decibels(Math.abs(levels.floorMargin))} ${levels.floorMargin < 0 ? 'under' : 'above'}`;
	return (
		`the returning level goes from ${level(levels.returning[last])} to ${level(levels.returning[0])} ` +
		`at the receiver, ${floor} its floor of ${level(levels.floor[0], 1)}`
	);
}

export const ceilingWords = (margin: number, whose: 'its' | 'the' = 'the'): string =>
	`${decibels(Math.abs(margin))} ${margin < 0 ? 'over' : 'below'} ${whose} ceiling`;

/** How far a level is from the one that breaks the device. */
export const breakingWords = (margin: number): string =>
	`${decibels(Math.abs(margin))} ${margin < 0 ? 'over' : 'below'} what breaks it`;
