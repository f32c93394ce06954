import { range as steps } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import type { LevelDiagram } from '#lib/bench/picture.ts';

/** The span of the dBm axis. */
export interface AxisRange {
	readonly top: number;
	readonly bottom: number;
}

export const DEFAULT_RANGE: AxisRange = { top: 0, bottom: -110 };

/** Room kept above the highest level for its name, and below the floor for the floor's, dB. */
const ABOVE = 10;
const BELOW = 15;
/** The same above a level that has no name there. */
const ABOVE_REACH = 3;

/** A level this little over a step does not make the axis grow, dB. */
const TOLERANCE = 0.5;

/** How many readings an average over the latest `averages` is worth once it has settled. */
const settledWorth = (averages: number): number => 2 * averages - 1;

/**
 * The default span, grown in steps of 10 dB to hold the highest level and what lies under the floor: under the floor
 * that these averages lead to, so that the axis stands still while they fill. `reach` is a level that has to be on it
 * besides, if there is one.
 */
export function rangeOf(levels: LevelDiagram, averages: number, reach: number | null = null): AxisRange {
	const highest = Math.max(...levels.outgoing, ...levels.returning.filter((level) => !Number.isNaN(level)));
	const settled = Math.min(...levels.floorSingle) - 10 * Math.log10(settledWorth(averages));
	const lowest = Math.min(...levels.floor, settled);
	return {
		top: Math.max(
			DEFAULT_RANGE.top,
			Math.ceil((highest + ABOVE - TOLERANCE) / 10) * 10,
			Math.ceil(((reach ?? -Infinity) + ABOVE_REACH) / 10) * 10
		),
		bottom: Math.min(DEFAULT_RANGE.bottom, Math.floor((lowest - BELOW + TOLERANCE) / 10) * 10)
	};
}

/** The span that holds both. */
export const union = (a: AxisRange, b: AxisRange): AxisRange => ({
	top: Math.max(a.top, b.top),
	bottom: Math.min(a.bottom, b.bottom)
});

/**
 * A range on the screen. `y` is exact; `inside` holds a level at the nearer edge, −Infinity included; one that is not
 * known lies at the bottom.
 */
export interface Axis extends AxisRange {
	readonly pixelsPerDb: number;
	readonly yTop: number;
	readonly yBottom: number;
	y(level: number): number;
	inside(level: number): number;
	/** Levels of the rules, 10 dB apart, from the top. */
	readonly rules: readonly number[];
}

/** Labels stand at every second rule. */
export const isLabelled = (rule: number): boolean => rule % 20 === 0;

export function axisOf(range: AxisRange, yTop: number, yBottom: number): Axis {
	const y = scaleLinear([range.top, range.bottom], [yTop, yBottom]);
	const clamped = y.copy().clamp(true);
	return {
		...range,
		pixelsPerDb: (yBottom - yTop) / (range.top - range.bottom),
		yTop,
		yBottom,
		y,
		inside: (level) => clamped(Number.isNaN(level) ? range.bottom : level),
		rules: steps(range.top, range.bottom - 5, -10)
	};
}
