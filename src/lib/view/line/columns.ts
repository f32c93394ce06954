import type { Setup } from '#lib/bench/setup.ts';
import type { PartKind } from '#lib/bench/part-schema.ts';
import { partSelection } from '#lib/view/selection.ts';
import type { Selection } from '#lib/view/selection.ts';

export type ColumnKind = PartKind | 'reflectometer' | 'device';

/** One part's share of the width. The line and the corridor below it stand on the same columns. */
export interface Column {
	readonly kind: ColumnKind;
	readonly selection: Selection;
	readonly left: number;
	readonly right: number;
	readonly middle: number;
	readonly width: number;
}

export interface Columns {
	/** Reflectometer, the parts in their order, device. */
	readonly all: readonly Column[];
	/** x of plane k, the gap right of part k; plane 0 is right of the reflectometer. */
	readonly planes: readonly number[];
	readonly left: number;
	readonly right: number;
}

const SHARE: Record<ColumnKind, number> = {
	reflectometer: 126,
	pad: 104,
	cable: 86,
	adapter: 66,
	device: 140
};
const LEAST: Record<ColumnKind, number> = { reflectometer: 66, pad: 56, cable: 44, adapter: 44, device: 88 };

/**
 * Shares the width from `left` to `right` among the columns in proportion to their kind, none below its least width.
 * Where even the least widths do not fit, the line is as wide as they need, so `right` may lie beyond what was asked.
 */
export function columnsOf(setup: Setup, left: number, right: number): Columns {
	const kinds: ColumnKind[] = ['reflectometer', ...setup.parts.map((p) => p.kind), 'device'];
	const widths = shareWidth(kinds, right - left);
	const selections = ['reflectometer', ...setup.parts.map((p) => partSelection(p.id)), 'device'];
	let x = left;
	const all = kinds.map((kind, k) => {
		const column = {
			kind,
			selection: selections[k],
			left: x,
			right: x + widths[k],
			middle: x + widths[k] / 2,
			width: widths[k]
		};
		x += widths[k];
		return column;
	});
	return { all, planes: all.slice(0, -1).map((c) => c.right), left, right: x };
}

/** Columns at their least width keep it; the others share the rest, until no more fall below theirs. */
function shareWidth(kinds: readonly ColumnKind[], width: number): number[] {
	const held = new Set<number>();
	for (;;) {
		const kept = [...held].reduce((sum, k) => sum + LEAST[kinds[k]], 0);
		const share = kinds.reduce((sum, kind, k) => sum + (held.has(k) ? 0 : SHARE[kind]), 0);
		const scale = share === 0 ? 0 : (width - kept) / share;
		const short = kinds.findIndex((kind, k) => !held.has(k) && SHARE[kind] * scale < LEAST[kind]);
		if (short < 0) return kinds.map((kind, k) => (held.has(k) ? LEAST[kind] : SHARE[kind] * scale));
		held.add(short);
	}
}
