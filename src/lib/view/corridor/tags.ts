import type { Setup } from '#lib/bench/setup.ts';
import type { LevelDiagram } from '#lib/bench/picture.ts';
import { MINUS, fixed, withUnit } from '#lib/view/numbers.ts';
import type { Columns } from '#lib/view/line/columns.ts';
import type { LevelLines } from './level-path.ts';
import type { Box } from './placement.ts';

/** The loss of one part, written on both of its steps. */
export interface LossTag {
	/** Which part, counted from 1 as its column is. */
	readonly column: number;
	readonly text: string;
	readonly x: number;
	readonly width: number;
	readonly yOutgoing: number;
	/** Null where nothing returns. */
	readonly yReturning: number | null;
}

export const TAG_HEIGHT = 28;

/** Loss from which a part carries tags, dB. */
const WORTH_A_TAG = 1;

/** Loss of part k one way: what lies between the floors referred to its two planes. */
export const lossOf = (levels: LevelDiagram, k: number): number =>
	levels.floorSingle[k] - levels.floorSingle[k - 1];

const lossText = (db: number, decimals: number): string => {
	const text = fixed(Math.abs(db), decimals).replace(/\.0$/, '');
	return withUnit(`${db < 0 ? '+' : MINUS}${text}`, 'dB');
};

export function lossTags(setup: Setup, levels: LevelDiagram, columns: Columns, lines: LevelLines): LossTag[] {
	return setup.parts.flatMap((part, index) => {
		const k = index + 1;
		// a pad says what it is set to, unless it is burnt; the others what they cost at this frequency
		const cost = lossOf(levels, k);
		const asSet = part.kind === 'pad' && Math.abs(cost - part.attenuation) < WORTH_A_TAG;
		const loss = asSet ? part.attenuation : cost;
		if (!(Math.abs(loss) > WORTH_A_TAG)) return [];
		const column = columns.all[k];
		const narrow = column.width < 66;
		const middleOf = (ys: readonly number[]) => (ys[k - 1] + ys[k]) / 2;
		const out = middleOf(lines.outgoing);
		const returns = Number.isFinite(levels.returning[k]);
		const back = middleOf(lines.returning);
		const text = lossText(loss, narrow ? 0 : 1);
		const missing = returns ? Math.max(0, TAG_HEIGHT + 4 - Math.abs(back - out)) / 2 : 0;
		const away = back < out ? missing : -missing;
		return [
			{
				column: k,
				text,
				x: column.middle,
				width: narrow ? Math.min(54, column.width - 2) : text.length > 7 ? 74 : 62,
				yOutgoing: out + away,
				yReturning: returns ? back - away : null
			}
		];
	});
}

/** What a part's two tags take up. */
export const tagBoxes = (tag: LossTag): Box[] =>
	[tag.yOutgoing, tag.yReturning].flatMap((y) =>
		y === null
			? []
			: [{ x: tag.x - tag.width / 2, y: y - TAG_HEIGHT / 2, width: tag.width, height: TAG_HEIGHT }]
	);
