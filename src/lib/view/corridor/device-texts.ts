import type { LevelDiagram } from '#lib/bench/picture.ts';
import type { Column } from '#lib/view/line/columns.ts';
import { textWidth } from '#lib/view/line/words.ts';
import { decibels, level } from '#lib/view/numbers.ts';

/** Columns narrower than this have shorter words, on more lines. */
export const isNarrowDevice = (column: Column): boolean => column.width < 120;

/** The ceiling's name, empty without a ceiling. */
export function ceilingText(levels: LevelDiagram, narrow: boolean): string {
	const ceiling = levels.ceiling?.at(-1);
	if (ceiling === undefined) return '';
	return `${narrow ? '' : 'ceiling '}${level(ceiling, Number.isInteger(ceiling) ? 0 : 1)}`;
}

/** The name of the level that breaks the device, empty where none is known. */
export function breakingText(levels: LevelDiagram, narrow: boolean): string {
	const breaking = levels.breaking?.at(-1);
	if (breaking === undefined) return '';
	return `${narrow ? '' : 'breaks at '}${level(breaking, Number.isInteger(breaking) ? 0 : 1)}`;
}

/** The return loss, on two lines in a narrow column. */
export function returnLossLines(levels: LevelDiagram, narrow: boolean): string[] {
	if (Number.isNaN(levels.returnLossDb)) return narrow ? ['echo', 'not known'] : ['echo not known'];
	const name = levels.returnLossDb === Infinity ? 'nothing' : 'return loss';
	const value = levels.returnLossDb === Infinity ? 'returns' : decibels(levels.returnLossDb, 2);
	return narrow ? [name, value] : [`${name} ${value}`];
}

/** The width of the widest line, in the size the words of the column have. */
export const widthOf = (lines: readonly string[], narrow: boolean): number =>
	Math.max(...lines.map((line) => textWidth(line, narrow ? 13.5 : 15, narrow ? 'condensed' : 'words'))) + 4;
