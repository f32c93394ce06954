import type { PartKind } from '#lib/bench/part-schema.ts';
import type { Setup } from '#lib/bench/setup.ts';

/** The kinds of part a line can be built from, in the words of the list that offers them. */
export interface KindWords {
	readonly kind: PartKind;
	readonly name: string;
	readonly words: string;
}

export const kinds: readonly KindWords[] = [
	{ kind: 'pad', name: 'Pad', words: 'attenuator: lowers both waves by its decibels' },
	{ kind: 'cable', name: 'Cable', words: 'a length of line with its loss' },
	{ kind: 'adapter', name: 'Adapter', words: 'a short piece of line between two connectors' }
];

/** Those whose name or words contain every word that was typed. */
export function kindsMatching(typed: string, offered: readonly KindWords[] = kinds): readonly KindWords[] {
	const wanted = typed.toLowerCase().split(/\s+/).filter(Boolean);
	return offered.filter(({ name, words }) =>
		wanted.every((word) => `${name} ${words}`.toLowerCase().includes(word))
	);
}

/** Where a part added at plane k stands: behind part k, or behind the reflectometer. */
export const addedAfter = (setup: Setup, plane: number): string =>
	plane === 0 ? 'reflectometer' : setup.parts[plane - 1].id;
