import { textWidth } from '#lib/view/line/words.ts';
import { MINUS, decibels, fixed } from '#lib/view/numbers.ts';
import { UPRIGHT, isOn } from './drive-layout.ts';
import type { DriveLayout } from './drive-layout.ts';
import { valueScale } from './drive-scale.ts';
import { rowAt } from './drive-view.ts';
import type { DriveView } from './drive-view.ts';

/** The name of a level that something happens at. */
export interface LevelName {
	readonly kind: 'ceiling' | 'compression' | 'breaking';
	readonly text: string;
	readonly x: number;
	readonly y: number;
	readonly anchor: 'start' | 'end';
	/** Its level along the axis. */
	readonly along: number;
}

const SIZE = 13.5;
const LINE = 15;
/** What happens where the gain is lost. */
const SHORT = `${MINUS}${decibels(1, 0)}`;

/**
 * Names of the levels. Beside the device only that where gain is lost: the others have theirs in its column, on the
 * same line. Upright each has a row of its own above the panels, right of its level, or left of it near the end.
 */
export function levelNames(view: DriveView, layout: DriveLayout): LevelName[] {
	if (layout.way === 'beside') return besideNames(view, layout);
	const all = [
		{ kind: 'ceiling' as const, level: view.ceiling, words: 'ceiling' },
		{ kind: 'compression' as const, level: view.compression, words: `${SHORT} of gain` },
		{ kind: 'breaking' as const, level: view.breaking, words: 'breaks' }
	];
	return all
		.flatMap(({ level, ...rest }) => (level !== null && isOn(layout, level) ? [{ level, ...rest }] : []))
		.map(({ kind, level, words }, row) => {
			const along = layout.level(level);
			const text = `${words} ${fixed(level, 1)}`;
			const late = along + 5 + textWidth(text, SIZE, 'condensed') > layout.most;
			const y = UPRIGHT.names + row * LINE;
			return { kind, text, x: along + (late ? -5 : 5), y, anchor: late ? 'end' : 'start', along };
		});
}

function besideNames(view: DriveView, layout: DriveLayout): LevelName[] {
	const { rows, compression, ceiling } = view;
	const gain = layout.panels.find(({ kind }) => kind === 'gain');
	if (gain === undefined || compression === null || !isOn(layout, compression)) return [];
	const along = layout.level(compression);
	const width = textWidth(SHORT, SIZE, 'condensed');
	const mark = valueScale(view, gain).at(rowAt(rows, compression)?.gain ?? NaN);
	// left of the mark, where the curve is above the line, so under it; and under the ceiling too if that would strike it
	const under = ceiling === null ? Infinity : layout.level(ceiling) - along;
	const struck = under > 0 && under < LINE + 5;
	const [before, after] = [mark - gain.from >= width + 2, gain.to - mark >= width + 8];
	const name = { kind: 'compression' as const, text: SHORT, along };
	if (after && !before) return [{ ...name, x: gain.to, y: along - 6, anchor: 'end' }];
	return [{ ...name, x: gain.from + 3, y: along + 16 + (struck ? under : 0), anchor: 'start' }];
}
