import type { Columns } from '#lib/view/line/columns.ts';
import type { LevelLines } from './level-path.ts';

/** Where the outgoing level turns into the returning one: just behind the last plane. */
export const turnX = (columns: Columns): number => columns.planes.at(-1)! + 4;

/** Width of the half circle in which it turns. */
export const turnWidth = (lines: LevelLines): number =>
	Math.min(14, Math.abs(lines.returning.at(-1)! - lines.outgoing.at(-1)!) / 2);

/** The half circle as path data, from the edge of the one line to the edge of the other; empty without room. */
export function turnPath(columns: Columns, lines: LevelLines): string {
	const [yOut, yBack] = [lines.outgoing.at(-1)!, lines.returning.at(-1)!];
	const [top, bottom] = yBack > yOut ? [yOut + 4, yBack - 3] : [yBack + 3, yOut - 4];
	const x = turnX(columns);
	if (bottom <= top) return '';
	return `M${x} ${top}A${turnWidth(lines)} ${(bottom - top) / 2} 0 0 1 ${x} ${bottom}`;
}
