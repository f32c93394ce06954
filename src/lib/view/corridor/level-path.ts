import { line } from 'd3-shape';
import type { Columns } from '#lib/view/line/columns.ts';
import type { Axis } from './axis.ts';

export type Point = readonly [x: number, y: number];

/** Closest the middles of the two lines may come on the screen. */
const CLEARANCE = 8;

/** Levels nearer than this read the same, dB. */
const SAME = 0.005;

const polyline = line().digits(1);

/** A polyline as path data. */
export const pathOf = (points: readonly Point[]): string => polyline([...points] as [number, number][]) ?? '';

/**
 * A value given at planes 0…N as a line over the columns from `from` to plane N. A lumped part (pad) steps in the
 * middle of its column, a distributed one (cable, adapter) slopes across it.
 */
export function levelPath(columns: Columns, ys: readonly number[], from: number): Point[] {
	const points: Point[] = [
		[from, ys[0]],
		[columns.planes[0], ys[0]]
	];
	for (let k = 1; k < ys.length; k++) {
		const column = columns.all[k];
		if (column.kind === 'pad') points.push([column.middle, ys[k - 1]], [column.middle, ys[k]]);
		points.push([column.right, ys[k]]);
	}
	return points;
}

export interface LevelLines {
	/** y of the outgoing and the returning line at each plane. */
	readonly outgoing: readonly number[];
	readonly returning: readonly number[];
	/** Whether the returning line is the upper one at plane k, where |Γ| ≥ 1. */
	readonly swapped: readonly boolean[];
}

/**
 * Where the two lines run. Where their middles come closer than 8 px, each is moved away by half of what is missing;
 * the numbers beside them stay those of the levels.
 */
export function levelLines(
	axis: Axis,
	outgoing: readonly number[],
	returning: readonly number[]
): LevelLines {
	const swapped = outgoing.map((level, k) => returning[k] - level > SAME);
	// two equal levels (|Γ| = 1) keep the sides they have elsewhere, and swap where they are equal all along
	if (outgoing.every((level, k) => returning[k] - level >= -SAME)) swapped.fill(true);
	const placed = outgoing.map((level, k) => {
		const [out, back] = [axis.inside(level), axis.inside(returning[k])];
		const missing = Math.max(0, CLEARANCE - Math.abs(out - back)) / 2;
		return swapped[k] ? [out + missing, back - missing] : [out - missing, back + missing];
	});
	return { outgoing: placed.map((p) => p[0]), returning: placed.map((p) => p[1]), swapped };
}
