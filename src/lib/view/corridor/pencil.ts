import type { LevelDiagram } from '#lib/bench/picture.ts';
import { textWidth } from '#lib/view/line/words.ts';
import { overlap } from './placement.ts';
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
	const here = [levels.outgoing[pencil.plane], levels.returning[pencil.plane]].filter((l) =>
		Number.isFinite(l)
	);
	const distance = (level: number) => Math.abs(level - pencil.level);
	return here.sort((a, b) => distance(a) - distance(b))[0] ?? null;
}

export interface PencilPlace {
	readonly x: number;
	readonly y: number;
	/** Whether something stands where the words would be, so that they go above the tick. */
	readonly crowded: boolean;
	readonly box: Box;
}

/** Where the mark stands: its tick left of the plane, its ring and its words right of it, or its words above. */
export function pencilPlace(x: number, y: number, label: string, taken: readonly Box[]): PencilPlace {
	const words = textWidth(label, 14.5, 'words');
	const beside = { x: x - 60, y: y - 9, width: 84 + words, height: 18 };
	const above = { x: x - 60, y: y - 24, width: Math.max(80, words), height: 33 };
	const crowded = taken.some((box) => overlap(box, beside));
	return { x, y, crowded, box: crowded ? above : beside };
}
