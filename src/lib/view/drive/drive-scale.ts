import { extent, ticks } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import { place } from './drive-layout.ts';
import type { DriveLayout, Panel } from './drive-layout.ts';
import type { DriveRow, DriveView } from './drive-view.ts';

export type Quantity = 'resistance' | 'reactance' | 'gain';

export const quantitiesOf = (panel: Panel): readonly Quantity[] =>
	panel.kind === 'gain' ? ['gain'] : ['resistance', 'reactance'];

/** How far past what happens the values have to be on the scale, dB; a curve may run out of the panel later. */
const BEYOND = 6;
/** The least span of a scale, Ω and dB. */
const LEAST_SPAN = { impedance: 2, gain: 2 };

/** Room for one figure, px. */
const TICK = 27;

export interface ValueScale {
	/** Px across the axis of levels; not held at the ends. */
	readonly at: (value: number) => number;
	readonly lowest: number;
	readonly highest: number;
	readonly ticks: readonly number[];
}

/**
 * The scale of one panel: it holds rest, now, and the curve up to a little past the present level, the ceiling and the
 * level where gain is lost, and ends at round figures so that it stands still while a level moves a little.
 */
export function valueScale(view: DriveView, panel: Panel): ValueScale {
	const seen = [view.now?.level, view.ceiling, view.compression].filter((level) => typeof level === 'number');
	const until = seen.length === 0 ? Infinity : Math.max(...seen) + BEYOND;
	const rows = [view.rest, view.now, ...view.rows.filter(({ level }) => level <= until)];
	const values = quantitiesOf(panel).flatMap((name) =>
		rows.flatMap((row) => (row && Number.isFinite(row[name]) ? [row[name]!] : []))
	);
	let [lowest, highest] = extent(values);
	lowest ??= 0;
	highest ??= 0;
	const missing = Math.max(0, LEAST_SPAN[panel.kind] - (highest - lowest)) / 2;
	const nice = scaleLinear([lowest - missing, highest + missing], [panel.from, panel.to]).nice(4);
	[lowest, highest] = nice.domain();
	const room = Math.max(2, Math.floor(Math.abs(panel.to - panel.from) / TICK));
	return { at: nice, lowest, highest, ticks: thinned(ticks(lowest, highest, room), room) };
}

/** Every second of the figures, or of those again, until there are few enough; zero stays if it is one of them. */
function thinned(figures: readonly number[], most: number): readonly number[] {
	if (figures.length <= most) return figures;
	const zero = Math.max(0, figures.indexOf(0));
	return thinned(
		figures.filter((_, k) => (k - zero) % 2 === 0),
		most
	);
}

/** A curve of a panel as path data, with a gap wherever a value is not finite. */
export function curvePath(view: DriveView, layout: DriveLayout, scale: ValueScale, name: Quantity): string {
	const path = line()
		.digits(1)
		.defined(([x, y]) => Number.isFinite(x) && Number.isFinite(y));
	return path(view.rows.map((row) => pointOf(row, layout, scale, name))) ?? '';
}

export const pointOf = (
	row: DriveRow,
	layout: DriveLayout,
	scale: ValueScale,
	name: Quantity
): [number, number] => place(layout.way, layout.level(row.level), scale.at(row[name] ?? NaN));

/** Whether the value of a row can be drawn inside its panel. */
export const isInside = (row: DriveRow | null, scale: ValueScale, name: Quantity): row is DriveRow => {
	const value = row?.[name];
	return typeof value === 'number' && value >= scale.lowest && value <= scale.highest;
};
