import { isOn } from './drive-layout.ts';
import type { DriveLayout, Panel } from './drive-layout.ts';
import { isInside, pointOf, quantitiesOf } from './drive-scale.ts';
import type { Quantity, ValueScale } from './drive-scale.ts';
import type { DriveView } from './drive-view.ts';
import type { LevelName } from './level-names.ts';

/** The name of a curve where it ends. */
export interface EndName {
	readonly name: Quantity;
	readonly x: number;
	readonly y: number;
	readonly anchor: 'start' | 'end';
}

/** Ends nearer than this would have their names on each other; a name needs so much width, and so much height. */
const CLOSE = 40;
const WIDTH = 30;
const HEIGHT = 15;

/** The last point of a curve inside its panel; null if none is. */
export function endOf(
	view: DriveView,
	layout: DriveLayout,
	scale: ValueScale,
	name: Quantity
): [number, number] | null {
	const last = view.rows.findLast((row) => isOn(layout, row.level) && isInside(row, scale, name));
	return last ? pointOf(last, layout, scale, name) : null;
}

/**
 * The names of a panel's curves. Of two ends that are close each takes the side away from the other, so far as the panel
 * has room there, and none lies on the name of a level. The gain alone in its narrow panel is named by the key.
 */
export function endNames(
	view: DriveView,
	layout: DriveLayout,
	panel: Panel & { readonly scale: ValueScale },
	levels: readonly LevelName[]
): EndName[] {
	if (layout.way === 'beside' && panel.kind === 'gain') return [];
	const ends = quantitiesOf(panel).flatMap((name) => {
		const end = endOf(view, layout, panel.scale, name);
		return end ? [{ name, x: end[0], y: end[1] }] : [];
	});
	const beside = layout.way === 'beside';
	const [left, right] = beside ? [panel.from, panel.to] : [layout.least, layout.most];
	const [top, bottom] = beside ? [layout.most, layout.least] : [panel.to, panel.from];
	const [a, b] = ends;
	const near = b !== undefined && Math.hypot(a.x - b.x, a.y - b.y) < CLOSE;
	const room = near && Math.min(a.x, b.x) - WIDTH > left && Math.max(a.x, b.x) + WIDTH < right;
	const sideways = room && Math.abs(a.x - b.x) >= Math.abs(a.y - b.y);
	return ends.map((end) => {
		const other = near ? (end === a ? b : a) : null;
		const late = sideways && other ? end.x < other.x : end.x > (left + right) / 2;
		const upper = other && (end.y < other.y || (end.y === other.y && end === a));
		const away = sideways || !other ? 0 : upper ? -9 : 12;
		const y = Math.min(bottom - 5, Math.max(top + 13, end.y + 4.5 + away));
		const struck = levels.find(
			(level) => level.x > left && level.x < right && Math.abs(level.y - y) < HEIGHT - 1
		);
		return {
			name: end.name,
			x: end.x + (late ? -8 : 8),
			y: struck ? struck.y - HEIGHT : y,
			anchor: late ? 'end' : 'start'
		};
	});
}
