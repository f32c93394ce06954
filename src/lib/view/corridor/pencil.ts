import type { LevelDiagram } from '#lib/bench/picture.ts';
import { textWidth } from '#lib/view/line/words.ts';
import type { Box } from './placement.ts';

/** A prediction in the corridor: at which plane, which level, in whose words; ink once it is committed. */
export interface Pencil {
	readonly plane: number;
	readonly level: number;
	readonly label: string;
	readonly ink: boolean;
}

/** The level a prediction is measured against: of the two at its plane the one it is nearer to. Null for none. */
export function observedBy(pencil: Pencil, levels: LevelDiagram): number | null {
	const here = [levels.outgoing[pencil.plane], levels.returning[pencil.plane]].filter((l) => Number.isFinite(l));
	const distance = (level: number) => Math.abs(level - pencil.level);
	return here.sort((a, b) => distance(a) - distance(b))[0] ?? null;
}

/** What the mark takes up: its tick left of the plane, its ring and its words right of it. */
export const pencilBox = (x: number, y: number, label: string): Box => ({
	x: x - 60,
	y: y - 9,
	width: 84 + textWidth(label, 14.5, 'words'),
	height: 18
});
