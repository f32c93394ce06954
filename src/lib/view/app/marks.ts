import type { Picture } from '#lib/bench/picture.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import type { WrittenAnswer } from '#lib/lesson/schema.ts';
import type { Pencil } from '#lib/view/corridor/pencil.ts';
import { decibels, level as levelWords } from '#lib/view/numbers.ts';

/** What a number question says of its mark in the corridor. */
interface MarkPlace {
	readonly at: 'receiver' | 'device';
	readonly as: 'level' | 'fall';
}

/** The number a learner has typed so far, with or without its unit; null while it is none. */
function numberOf(written: WrittenAnswer | null): number | null {
	if (typeof written !== 'string') return null;
	const value = Number.parseFloat(written.replace('\u2212', '-').replace(',', '.'));
	return Number.isFinite(value) ? value : null;
}

/** An answer about a level, as a pencil mark at its plane in the corridor. A fall counts from the level there now. */
export function levelMark(
	written: WrittenAnswer | null,
	{ at, as }: MarkPlace,
	picture: Picture
): Pencil | null {
	const value = numberOf(written);
	if (value === null) return null;
	const { outgoing, returning } = picture.markers[1].levels;
	const plane = at === 'receiver' ? 0 : outgoing.length - 1;
	const now = at === 'receiver' ? returning[0] : outgoing[plane];
	const level = as === 'fall' ? now - value : value;
	const label = as === 'fall' ? `your pencil: ${decibels(value)} lower` : `your pencil ${levelWords(level)}`;
	return { plane, level, label, ink: false };
}

/** An answer on the chart as a pencil mark. */
export function pointMark(written: WrittenAnswer | null): { gamma: Complex; ink: boolean } | null {
	if (typeof written !== 'object' || written === null || Array.isArray(written) || !('at' in written))
		return null;
	const [re, im] = written.at;
	return { gamma: { re, im }, ink: false };
}
