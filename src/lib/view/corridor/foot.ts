import type { Picture } from '#lib/bench/picture.ts';
import type { Setup } from '#lib/bench/setup.ts';
import type { Columns } from '#lib/view/line/columns.ts';
import { textWidth } from '#lib/view/line/words.ts';
import { decibels, picoseconds } from '#lib/view/numbers.ts';
import { placeOfDelay, planeAt } from './reference-place.ts';
import type { DelayScale } from './reference-place.ts';

/** Where the readings are referred to, as drawn under the corridor. */
export interface ReferencePlane {
	readonly scale: DelayScale;
	/** The plane it starts from: the calibration's, or plane 0 without one. */
	readonly from: number;
	readonly calibrated: boolean;
	readonly x: number;
	/** The numbered plane it coincides with, if it does. */
	readonly plane: number | undefined;
	readonly offset: string;
}

/** Null while the picture is of another line than the setup. */
export function referencePlane(
	setup: Setup,
	picture: Picture | null,
	columns: Columns
): ReferencePlane | null {
	if (picture === null || picture.planeDelays.length !== columns.planes.length) return null;
	const calibrated = picture.correction.kind === 'calibration';
	const from = picture.correction.kind === 'calibration' ? picture.correction.plane : 0;
	if (from >= columns.planes.length) return null;
	const scale = {
		planes: columns.planes,
		delays: picture.planeDelays,
		left: columns.left + 10,
		right: columns.right - 10
	};
	const { delay, loss } = setup.processing.extension;
	const at = picture.planeDelays[from] + delay;
	const offset = loss === 0 ? picoseconds(delay) : `${picoseconds(delay)}, ${decibels(loss, 2)}`;
	return {
		scale,
		from,
		calibrated,
		x: placeOfDelay(scale, at, from),
		plane: planeAt(scale, at, from),
		offset
	};
}

/** A stretch of words in the foot's second row. */
export interface FootWords {
	readonly text: string;
	readonly x: number;
	readonly anchor: 'start' | 'end' | 'middle';
	readonly kind: 'from' | 'to' | 'offset';
}

const SIZE = 14;

/**
 * The words around the arrow from the calibration plane to the reference plane: where it starts, the offset within
 * it, where it ends. Without room at one side everything is said at the other.
 */
export function footWords(reference: ReferencePlane, fromX: number, width: number): FootWords[] {
	const end = 'Reference plane';
	const forward = reference.x >= fromX;
	const moved = Math.abs(reference.x - fromX) > 1;
	const inArrow = Math.abs(reference.x - fromX) > textWidth(reference.offset, SIZE, 'figures') + 56;
	const endText = moved && !inArrow ? `${end} ${reference.offset}` : end;
	const fits = (x: number, text: string, toRight: boolean) =>
		toRight ? x + 8 + textWidth(text, SIZE, 'words') < width : x - 12 - textWidth(text, SIZE, 'words') > 0;
	const offset: FootWords[] =
		moved && inArrow
			? [{ text: reference.offset, x: (reference.x + fromX) / 2, anchor: 'middle', kind: 'offset' }]
			: [];
	const at = (text: string, x: number, toRight: boolean, kind: 'from' | 'to'): FootWords => ({
		...{ text, kind, anchor: toRight ? 'start' : 'end' },
		x: x + (toRight ? 8 : -12)
	});
	const toFits = fits(reference.x, endText, forward);
	const start = (
		reference.calibrated ? ['calibrated here'] : ['from plane 0, not calibrated', 'from plane 0']
	).find((text) => fits(fromX, text, !forward));
	if (toFits)
		return [
			...offset,
			at(endText, reference.x, forward, 'to'),
			...(start ? [at(start, fromX, !forward, 'from')] : [])
		];
	return [...offset, at(endText, fromX, !forward, 'to')];
}
