import type { LevelDiagram } from '#lib/bench/picture.ts';
import type { Columns } from '#lib/view/line/columns.ts';
import type { Axis } from './axis.ts';
import { levelPath } from './level-path.ts';
import { lineBoxes } from './placement.ts';
import type { Box } from './placement.ts';

/** What the edges of the walls take up, so that no words are struck by them. */
export function wallBoxes(columns: Columns, axis: Axis, levels: LevelDiagram): Box[] {
	const { left, right, planes } = columns;
	const through = (wall: readonly number[], from: number): Box[] => {
		const ys = wall.map(axis.inside);
		return lineBoxes([...levelPath(columns, ys, from), [right, ys.at(-1)!]]);
	};
	const across = (level: number): Box[] => {
		const y = axis.inside(level);
		return lineBoxes([
			[left, y],
			[planes[0], y]
		]);
	};
	return [
		...(levels.ceiling ? through(levels.ceiling, left) : []),
		...(levels.breaking ? through(levels.breaking, left) : []),
		...through(levels.floor, planes[0]),
		...across(levels.floor[0]),
		...across(levels.floorSingle[0])
	];
}

/** Loss from which a wall referred through the line is worth a caption, dB. */
const WORTH_A_CAPTION = 0.5;

/** Whether the wall stands elsewhere at the far end of the line than at its own. */
export const isReferred = (wall: readonly number[]): boolean =>
	Math.abs(wall[0] - wall.at(-1)!) >= WORTH_A_CAPTION;
