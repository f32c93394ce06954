import { range as steps } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import type { Axis } from '#lib/view/corridor/axis.ts';
import type { DriveView } from './drive-view.ts';

/**
 * Where the picture against drive stands: beside the device, its levels on the corridor's own axis and its values
 * growing to the right, or upright with levels from left to right and values growing upward. Px of the drawing.
 */
export interface DriveLayout {
	readonly way: 'beside' | 'upright';
	/** Along the axis of levels, which runs from `least` to `most`. */
	readonly level: (level: number) => number;
	readonly least: number;
	readonly most: number;
	/** Levels that have a rule. */
	readonly rules: readonly number[];
	/** Impedance, and gain where there is one. */
	readonly panels: readonly Panel[];
	/** From where the outgoing level runs on to the present values, across the axis of levels. */
	readonly entry: number;
}

/** Stretch of a panel across the axis of levels, from its least value to its largest. */
export interface Panel {
	readonly kind: 'impedance' | 'gain';
	readonly from: number;
	readonly to: number;
}

/** Width the picture takes beside the device, and the least width of bench that has it. */
export const STRIP = 204;
export const LEAST_BENCH = 720;

/** `left` is where the corridor ends. */
export function besideLayout(axis: Axis, left: number, hasGain: boolean): DriveLayout {
	const right = left + STRIP - 8;
	const impedance = { kind: 'impedance' as const, from: left + 16, to: hasGain ? left + 121 : right };
	const gain = { kind: 'gain' as const, from: left + 144, to: right };
	return {
		way: 'beside',
		level: axis.y,
		least: axis.yBottom,
		most: axis.yTop,
		rules: axis.rules,
		panels: hasGain ? [impedance, gain] : [impedance],
		entry: left
	};
}

/** Measures of the upright picture. */
export const UPRIGHT = { width: 332, height: 366, left: 44, right: 324, names: 42, top: 88, bottom: 324 };

export function uprightLayout(view: DriveView): DriveLayout {
	const { rows, rest, now, breaking } = view;
	const { left, right, top, bottom } = UPRIGHT;
	const lowest = Math.min(rows[0].level, now?.level ?? Infinity);
	const highest = Math.max(breaking ?? rows[rows.length - 1].level, now?.level ?? -Infinity);
	const [from, to] = [Math.floor((lowest + 1) / 10) * 10, Math.ceil((highest + 3) / 10) * 10];
	const impedance = { kind: 'impedance' as const, from: rest.gain === null ? bottom : 240, to: top };
	const gain = { kind: 'gain' as const, from: bottom, to: 268 };
	return {
		way: 'upright',
		level: scaleLinear([from, to], [left, right]),
		least: left,
		most: right,
		rules: steps(Math.ceil(from / 20) * 20, to + 1, 20),
		panels: rest.gain === null ? [impedance] : [impedance, gain],
		entry: bottom
	};
}

/** A level as it is along the axis, held at the nearer end; one that is not known at the least. */
export function held({ level, least, most }: DriveLayout, dbm: number): number {
	if (Number.isNaN(dbm)) return least;
	return Math.min(Math.max(least, most), Math.max(Math.min(least, most), level(dbm)));
}

/** Whether a level lies on the axis. */
export const isOn = (layout: DriveLayout, dbm: number): boolean => {
	const along = held(layout, dbm);
	return along !== layout.least && along !== layout.most;
};

/** A point of the drawing from its place along the axis of levels and across it. */
export const place = (way: DriveLayout['way'], along: number, across: number): [number, number] =>
	way === 'beside' ? [across, along] : [along, across];

/** A rectangle from two levels and two places across, as the attributes of one. */
export function rectangle({ way }: DriveLayout, [a, b]: [number, number], [c, d]: [number, number]) {
	const [along, across] = [Math.min(a, b), Math.min(c, d)];
	const [length, breadth] = [Math.abs(b - a), Math.abs(d - c)];
	const [x, y] = place(way, along, across);
	const [width, height] = place(way, length, breadth);
	return { x, y, width, height };
}

/** A straight line across the axis of levels, as path data. */
export const acrossPath = ({ way }: DriveLayout, along: number, from: number, to: number): string =>
	`M${place(way, along, from).join(' ')}L${place(way, along, to).join(' ')}`;

/** A straight line along the axis of levels, as path data. */
export const alongPath = ({ way, least, most }: DriveLayout, across: number): string =>
	`M${place(way, least, across).join(' ')}L${place(way, most, across).join(' ')}`;
