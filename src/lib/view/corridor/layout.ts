import type { Picture, LevelDiagram } from '#lib/bench/picture.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { columnsOf } from '#lib/view/line/columns.ts';
import type { Columns } from '#lib/view/line/columns.ts';

/** The measures of the whole drawing, in px at 16 px a rem. */
export interface Frame {
	readonly width: number;
	readonly height: number;
	readonly columns: Columns;
	readonly axisLabelX: number;
	/** Whether set values stand under the parts. */
	readonly values: boolean;
	readonly plotTop: number;
	readonly plotBottom: number;
	/** Whether the planes' foot lies on the axis instead of below it. */
	readonly mergedFoot: boolean;
}

/** The corridor keeps at least this much a dB over its default span. */
const LEAST_PLOT = 2.5 * 110;

/**
 * Measures for the space there is. In a short space the value captions go first, then the foot merges with the axis,
 * then the drawing is higher than its space.
 */
export function frameOf(setup: Setup, width: number, height: number): Frame {
	const left = 38;
	const columns = columnsOf(setup, left, width - 4);
	const plot = (values: boolean, merged: boolean) => height - (values ? 122 : 102) - (merged ? 30 : 52);
	const values = plot(true, false) >= LEAST_PLOT;
	const mergedFoot = !values && plot(false, false) < LEAST_PLOT;
	const plotTop = values ? 122 : 102;
	const plotBottom = Math.max(plotTop + LEAST_PLOT, height - (mergedFoot ? 30 : 52));
	return {
		width: Math.max(width, columns.right + 4),
		height: plotBottom + (mergedFoot ? 30 : 52),
		...{ columns, axisLabelX: left - 6, values, plotTop, plotBottom, mergedFoot }
	};
}

/** The levels of the chosen marker, if the picture is of a line with as many planes as the setup now has. */
export function levelsFor(setup: Setup, picture: Picture | null, marker: 0 | 1 | 2): LevelDiagram | null {
	if (picture?.markers[marker].levels.outgoing.length !== setup.parts.length + 1) return null;
	const { levels, reading } = picture.markers[marker];
	// what the device sends back is not known, so neither is what comes back along the line
	if (picture.silence === null && !Number.isNaN(reading.driven.re)) return levels;
	return {
		...levels,
		returning: levels.returning.map(() => NaN),
		returnLossDb: NaN,
		floorMargin: NaN
	};
}
