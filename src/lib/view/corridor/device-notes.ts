import type { LevelDiagram } from '#lib/bench/picture.ts';
import type { Column } from '#lib/view/line/columns.ts';
import type { Axis } from './axis.ts';
import type { LevelLines } from './level-path.ts';
import { claim, slide } from './placement.ts';
import { turnWidth } from './turn.ts';
import type { Box } from './placement.ts';

/** Where the words in the device's column stand; what is undefined found no room and is left to the table. */
export interface DeviceNotes {
	readonly zone: Box | undefined;
	readonly margin: Box | undefined;
	readonly ceiling: Box | undefined;
	readonly breaking: Box | undefined;
	readonly returnLoss: Box | undefined;
	readonly notValid: Box | undefined;
	readonly floor: Box | undefined;
}

export interface DeviceWords {
	/** Width of the referred floor's caption, which may reach out of the column; null without one. */
	readonly floorWidth: number | null;
	readonly ceilingWidth: number;
	readonly breakingWidth: number;
	/** Width and number of lines of the return loss. */
	readonly lossWidth: number;
	readonly lossLines: number;
	readonly outOfCeiling: boolean;
	/** Height of the margin's plate; null without a margin. */
	readonly marginHeight: number | null;
	/** Whether to say that the reading is not valid. */
	readonly notValid: boolean;
}

/**
 * Finds room for, in this order: the name of the breaking level, the margin's plate, the ceiling's name, the return loss,
 * the word that the reading is not valid, the zone's name, the referred floor. `taken` grows by what is placed.
 */
export function deviceNotes(
	column: Column,
	axis: Axis,
	levels: LevelDiagram,
	lines: LevelLines,
	words: DeviceWords,
	taken: Box[]
): DeviceNotes {
	const last = levels.outgoing.length - 1;
	const returns = Number.isFinite(levels.returning[last]);
	const yOut = lines.outgoing[last];
	const yBack = returns ? lines.returning[last] : yOut;
	const { yTop, yBottom } = axis;
	taken.push({ x: column.left, y: yOut - 15, width: column.width, height: 30 });
	if (returns) {
		const [y, height] = [Math.min(yOut, yBack), Math.abs(yBack - yOut)];
		taken.push({ x: column.left, y, width: 6 + turnWidth(lines), height });
	}
	const inner = { x: column.left + 12, width: column.width - 24 };
	const yCeiling = levels.ceiling ? axis.y(levels.ceiling[last]) : yTop;
	const hasZone = levels.ceiling !== null && yCeiling > yTop;

	const right = column.right - 2;
	const yBreaking = levels.breaking ? axis.y(levels.breaking[last]) : -Infinity;
	const breakingName = { x: right - words.breakingWidth, width: words.breakingWidth, height: 18 };
	const breaking =
		yBreaking > yTop && yBreaking < yBottom
			? claim(
					[
						{ ...breakingName, y: yBreaking + 8 },
						{ ...breakingName, y: yBreaking - 26 }
					].filter(({ y }) => y >= yTop),
					taken
				)
			: undefined;

	const plate = { ...inner, height: words.marginHeight ?? 0 };
	const over = slide(plate, yOut - 18 - plate.height, yTop + 4, -4);
	const under = slide(
		plate,
		Math.max(yOut + 18, hasZone ? Math.min(yCeiling + 6, yOut + 18) : yOut + 18),
		yBottom,
		4
	);
	const margin =
		words.marginHeight !== null
			? claim(words.outOfCeiling ? [...over, ...under] : [...under, ...over], taken)
			: undefined;

	const name = { x: right - words.ceilingWidth, width: words.ceilingWidth, height: 18 };
	const ceiling = !levels.ceiling
		? undefined
		: hasZone
			? claim(
					[
						{ ...name, y: yCeiling + 6 },
						{ ...name, y: yCeiling - 24 },
						...slide(name, yCeiling + 6, yBottom)
					],
					taken
				)
			: claim(slide({ ...name, height: 34 }, yTop + 6, yBottom), taken);

	const loss = { x: right - words.lossWidth, width: words.lossWidth, height: 1 + 17 * words.lossLines };
	const beside =
		Math.abs(yBack - yOut) > 26 + loss.height ? [{ ...loss, y: (yOut + yBack - loss.height) / 2 }] : [];
	const lower = Math.max(yOut, yBack);
	const returnLoss = claim(
		[...beside, ...slide(loss, lower + 8, yBottom), ...slide(loss, yOut - 18 - loss.height, yTop, -6)],
		taken
	);

	const sentence = { x: column.left + 6, width: column.width - 6, height: column.width < 120 ? 44 : 66 };
	const notValid = words.notValid
		? claim(slide(sentence, Math.max(yCeiling, yOut) + 2, yBottom, 4), taken)
		: undefined;

	const zoneName = { ...inner, y: yTop + 8, height: 48 };
	const zone = hasZone && yCeiling - yTop > 64 ? claim([zoneName], taken) : undefined;

	const yFloor = axis.y(levels.floor[last]);
	const floorWidth = words.floorWidth ?? 0;
	const caption = { x: column.right - 6 - floorWidth, width: floorWidth + 6, height: 18 };
	const floor =
		words.floorWidth !== null && yFloor > yTop && yFloor < yBottom - 20
			? claim(
					[
						{ ...caption, y: yFloor + 6 },
						{ ...caption, y: yFloor - 22 }
					],
					taken
				)
			: undefined;
	return { zone, margin, ceiling, breaking, returnLoss, notValid, floor };
}
