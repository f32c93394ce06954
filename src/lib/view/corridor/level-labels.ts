import { fixed } from '#lib/view/numbers.ts';
import { textWidth } from '#lib/view/line/words.ts';
import type { Columns } from '#lib/view/line/columns.ts';
import type { Selection } from '#lib/view/selection.ts';
import { claim } from './placement.ts';
import type { Box } from './placement.ts';

export type Wave = 'outgoing' | 'returning';

export interface LevelLabel {
	readonly plane: number;
	readonly text: string;
	readonly x: number;
	readonly y: number;
	readonly anchor: 'middle' | 'start' | 'end';
	/** The label at the device is larger. */
	readonly last: boolean;
}

/** Least width between two labels. */
const GAP = 6;

/** How much is labelled: by a wide bench every change, by a narrow one less. */
export type LabelDetail = 'all' | 'selected' | 'pads';

export const detailFor = (width: number): LabelDetail =>
	width >= 640 ? 'all' : width >= 480 ? 'selected' : 'pads';

/** Planes whose level is printed; plane 0 has its label at the source or the receiver. */
export function labelledPlanes(
	columns: Columns,
	levels: readonly number[],
	detail: LabelDetail,
	selected: Selection | null
): number[] {
	const last = levels.length - 1;
	const wanted = (k: number) => {
		if (k === last || detail === 'all') return true;
		const beside = [columns.all[k], columns.all[k + 1]];
		return detail === 'pads' ? beside[0].kind === 'pad' : beside.some((c) => c.selection === selected);
	};
	// equal neighbours share the label nearer the device
	const changes = (k: number) => k === last || fixed(levels[k], 2) !== fixed(levels[k + 1], 2);
	return levels
		.map((_, k) => k)
		.filter((k) => k > 0 && Number.isFinite(levels[k]) && wanted(k) && changes(k));
}

/**
 * Places the labels of one wave, from the device back: centred at their plane, beside it, or on the other side of
 * their line, whichever is free; a label without room is left to the table.
 */
export function levelLabels(
	columns: Columns,
	levels: readonly number[],
	ys: readonly number[],
	planes: readonly number[],
	above: (plane: number) => boolean,
	taken: Box[]
): LevelLabel[] {
	const last = levels.length - 1;
	const placed: LevelLabel[] = [];
	for (const plane of [...planes].reverse()) {
		const text = fixed(levels[plane], 2);
		const size = plane === last ? 16 : 14;
		const width = textWidth(text, size, 'figures') + GAP;
		const x = columns.planes[plane];
		const spots: Record<LevelLabel['anchor'], { left: number; at: number }> = {
			middle: { left: x - width / 2, at: x },
			end: { left: x - 4 - width, at: x - 4 },
			start: { left: x + 4, at: x + 4 }
		};
		/** `away` is how much further from the line than usual. */
		const candidate = (anchor: LevelLabel['anchor'], away = 0, over = above(plane)) => {
			const baseline = ys[plane] + (over ? -11 - away : 12 + size * 0.7 + away);
			const { left, at } = spots[anchor];
			return { x: left, y: baseline - size * 0.75, width, height: size, anchor, at, baseline };
		};
		const candidates =
			plane === last
				? [
						candidate('end'),
						candidate('end', 0, !above(plane)),
						candidate('end', 14),
						candidate('start', 10),
						candidate('end', 28)
					]
				: [
						candidate('middle'),
						candidate('end'),
						candidate('start'),
						candidate('middle', 0, !above(plane)),
						candidate('end', 0, !above(plane))
					];
		const spot = claim(candidates, taken);
		if (spot)
			placed.push({ plane, text, x: spot.at, y: spot.baseline, anchor: spot.anchor, last: plane === last });
	}
	return placed.reverse();
}
