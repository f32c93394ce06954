import { polar } from '#lib/numeric/complex.ts';
import { MINUS, NO_BREAK_SPACE } from '#lib/view/numbers.ts';
import { toPoint } from './frame.ts';
import type { Frame, Point } from './frame.ts';
import { gammaAt, GRID_VALUES } from './grid.ts';

/** The words on the grid, in ohms. */
export interface Label extends Point {
	readonly text: string;
	readonly anchor: 'start' | 'middle' | 'end';
}

const REFERENCE = 50;

/** Labels on the real axis, just right of each circle and above the axis. */
function axisLabels(frame: Frame, values: readonly number[]): Label[] {
	return values.map((r, k) => {
		const p = toPoint(frame, gammaAt(r, 0));
		const unit = k === values.length - 1 ? `${NO_BREAK_SPACE}Ω` : '';
		return { x: p.x + 3, y: p.y - 4, anchor: 'start' as const, text: `${r * REFERENCE}${unit}` };
	});
}

/** Labels outside the rim, at the ends of the reactance arcs. */
function rimLabels(frame: Frame, values: readonly number[]): Label[] {
	return values.flatMap((x) =>
		[x, -x].map((signedX) => {
			const angle = 2 * Math.atan2(1, signedX);
			const p = toPoint(frame, polar(1 + 8 / frame.unit, angle));
			const side = Math.cos(angle);
			return {
				x: p.x,
				y: p.y + (signedX > 0 ? 0 : 9),
				anchor: side > 0.1 ? ('start' as const) : side < -0.1 ? ('end' as const) : ('middle' as const),
				text: `${signedX > 0 ? '+' : MINUS}j${x * REFERENCE}`
			};
		})
	);
}

/** All labels; a chart drawn small, because readings lie far outside the rim, keeps only 50 Ω and ±j50 Ω. */
export function gridLabels(frame: Frame): readonly Label[] {
	const small = frame.unit < 100;
	const short: Label = { ...toPoint(frame, gammaAt(0, 0)), text: '0', anchor: 'end' };
	return [
		...axisLabels(frame, small ? [1] : GRID_VALUES),
		...rimLabels(frame, small ? [1] : [0.5, 1, 2]),
		{ ...short, x: short.x - 6, y: short.y + 4.5 }
	];
}
