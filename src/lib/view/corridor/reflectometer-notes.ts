import type { LevelDiagram } from '#lib/bench/picture.ts';
import type { Column } from '#lib/view/line/columns.ts';
import type { Axis } from './axis.ts';
import type { LevelLines } from './level-path.ts';
import { claim, slide } from './placement.ts';
import type { Box } from './placement.ts';
import { isReferred } from './wall-boxes.ts';
import type { Margin } from './margins.ts';

/** Where the words in the reflectometer's column stand; what is undefined found no room and is left to the table. */
export interface ReflectometerNotes {
	readonly outgoing: Box;
	readonly returning: Box | undefined;
	readonly margin: Box;
	readonly floor: Box | undefined;
	readonly averaging: (Box & { readonly lines: number }) | undefined;
	readonly ceiling: Box | undefined;
	/** The referred level that breaks the device. */
	readonly breaking: Box | undefined;
}

/** Columns narrower than this have smaller words and no captions. */
export const isNarrow = (column: Column): boolean => column.width < 100;

const label = (column: Column) => ({ width: isNarrow(column) ? 58 : 96, height: 34 });

/**
 * Finds room for, in this order: the names of the two levels, the floor's own name, the margin, what averaging does,
 * the referred ceiling and breaking level. `taken` is what already stands in the corridor and grows by what is placed.
 */
export function reflectometerNotes(
	column: Column,
	axis: Axis,
	levels: LevelDiagram,
	lines: LevelLines,
	margin: Margin,
	taken: Box[]
): ReflectometerNotes {
	const indent = isNarrow(column) ? 6 : 16;
	const x = column.left + indent;
	const named = label(column);
	const [yOut, yBack] = [lines.outgoing[0], lines.returning[0]];
	const returns = Number.isFinite(levels.returning[0]);
	const yFloor = axis.inside(levels.floor[0]);
	const ySingle = axis.inside(levels.floorSingle[0]);
	const line = (y: number) => ({ x: column.left, y: y - 8, width: column.width, height: 16 });
	taken.push(line(yOut));
	if (returns) taken.push(line(yBack));

	const beside = (y: number): { above: Box; below: Box } => ({
		above: { x, y: y - 46, ...named },
		below: { x: x + 12, y: y + 11, ...named }
	});
	const inPlot = (box: Box) => box.y >= axis.yTop - 8 && box.y + box.height <= axis.yBottom;
	const out = beside(yOut);
	const outOrder = (lines.swapped[0] && returns ? [out.below, out.above] : [out.above, out.below]).filter(
		inPlot
	);
	const outgoing =
		claim([...outOrder, ...slide({ x: x + 12, ...named }, yOut + 11, axis.yBottom)], taken) ?? out.above;
	const back = beside(yBack);
	const returning = returns
		? claim(
				[back.above, back.below, ...slide({ x: x + 12, ...named }, yBack + 11, axis.yBottom)].filter(inPlot),
				taken
			)
		: undefined;

	const narrow = isNarrow(column);
	const plate = narrow
		? { x: column.left + 4, width: 48, height: 22 }
		: { x: column.left + 8, width: Math.min(124, column.width - 18), height: 40 };
	const floor = claim(
		[
			...slide(plate, yFloor + 14, axis.yBottom - 2, 4),
			...slide({ ...plate, height: 22 }, yFloor + 4, axis.yBottom, 2)
		],
		taken
	);
	const place = marginBox(column, axis, { yBack, yFloor, ySingle, returns, margin }, taken);
	return {
		outgoing,
		returning,
		floor,
		margin: place,
		...captions(column, axis, levels, { yFloor, ySingle }, taken)
	};
}

function marginBox(
	column: Column,
	axis: Axis,
	at: { yBack: number; yFloor: number; ySingle: number; returns: boolean; margin: Margin },
	taken: Box[]
): Box {
	const plated = at.margin.state !== 'clear';
	const height = (plated ? 56 : 48) + (at.margin.verdict ? 16 : 0);
	const size = isNarrow(column)
		? { x: column.left + (plated ? 2 : 18), width: plated ? 78 : 84, height }
		: {
				x: column.left + (plated ? 22 : 26),
				width: Math.min(150, column.width - (plated ? 24 : 28)),
				height
			};
	const middle = (at.yBack + Math.min(at.yFloor, at.ySingle) - height) / 2;
	const nearest = at.returns ? Math.max(at.yBack + 12, middle) : at.yFloor - height - 12;
	const between = slide(size, nearest, at.yFloor - 3, 1);
	const upward = slide(size, Math.min(nearest, at.yFloor - height), axis.yTop, -4);
	const free = claim([...between, ...upward, ...slide(size, at.yFloor, axis.yBottom, 4)], taken);
	return free ?? { ...size, y: Math.max(axis.yTop, Math.min(at.yFloor, axis.yBottom) - height) };
}

function captions(
	column: Column,
	axis: Axis,
	levels: LevelDiagram,
	at: { yFloor: number; ySingle: number },
	taken: Box[]
): Pick<ReflectometerNotes, 'averaging' | 'ceiling' | 'breaking'> {
	const narrow = isNarrow(column);
	const size = { x: column.left + 28, width: column.width - 30 };
	const averaging = narrow
		? undefined
		: claim(
				[
					{ ...size, y: at.ySingle + 4, height: 42, lines: 3 },
					{ ...size, y: at.ySingle + 4, height: 18, lines: 1 },
					{ ...size, y: at.ySingle - 20, height: 18, lines: 1 }
				].filter((box) => box.y + box.height < Math.max(at.yFloor, at.ySingle + 1)),
				taken
			);
	const words = { x: column.left + 16, width: column.width - 24, height: 32 };
	const referred = (wall: readonly number[] | null): Box | undefined => {
		const y = wall ? axis.y(wall[0]) : NaN;
		if (wall === null || narrow || !(y > axis.yTop && y < axis.yBottom) || !isReferred(wall))
			return undefined;
		const spots = [
			{ ...words, y: y + 5 },
			{ ...words, y: y - 38 }
		];
		return claim(
			spots.filter((box) => box.y >= axis.yTop),
			taken
		);
	};
	return { averaging, ceiling: referred(levels.ceiling), breaking: referred(levels.breaking) };
}
