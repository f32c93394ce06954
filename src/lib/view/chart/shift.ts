import type { MarkerReading, Picture } from '#lib/bench/picture.ts';
import { magnitude, subtract } from '#lib/numeric/complex.ts';
import { toPoint } from './frame.ts';
import type { Frame, Point } from './frame.ts';

/** How far the device's Γ has moved from rest at the present drive, on a drawing. */
export interface Shift {
	/** At rest, and at the present drive. */
	readonly from: Point;
	readonly to: Point;
	/** Px between the two. */
	readonly length: number;
}

/** Px from which a shift can be told from the thickness of the marks, and from which its ends have room for a name. */
const LEAST_SHIFT = 3;
const NAMED = 26;
/** A change of Γ that shows in the three decimals it is written with. */
const LEAST_CHANGE = 0.001;

const apart = ({ truth, driven }: Pick<MarkerReading, 'truth' | 'driven'>): number =>
	magnitude(subtract(driven, truth));

/** Null where it is not known or too small to be seen. */
export function shiftOf(frame: Frame, reading: Pick<MarkerReading, 'truth' | 'driven'>): Shift | null {
	const length = apart(reading) * frame.unit;
	if (!(length >= LEAST_SHIFT && length < Infinity)) return null;
	return { from: toPoint(frame, reading.truth), to: toPoint(frame, reading.driven), length };
}

export const isNamed = ({ length }: Shift): boolean => length >= NAMED;

/** Whether the shift is worth a figure. */
export const isWorthAFigure = (reading: Pick<MarkerReading, 'truth' | 'driven'>): boolean =>
	apart(reading) >= LEAST_CHANGE;

/** Whether it is at any marker; the table then has columns for it. */
export const moves = (picture: Picture): boolean =>
	picture.markers.some(({ reading }) => isWorthAFigure(reading));
