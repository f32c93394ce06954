import type { Damage } from '#lib/bench/history.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import { level, shown } from '#lib/view/numbers.ts';
import { partSelection } from '#lib/view/selection.ts';
import type { Selection } from '#lib/view/selection.ts';

/** One broken part of the bench, whatever has broken it, and however often. */
export interface BrokenPart {
	/** As the command that replaces it names it. */
	readonly part: string;
	readonly name: string;
	readonly selection: Selection;
	/** What broke, at what level and against which limit, oldest first. */
	readonly words: readonly string[];
}

/** 3.2 V from 3.2049 V: a reading of a limit that was passed needs no more figures. */
const rounded = (value: number, kind: 'voltage' | 'current' | 'power'): string =>
	shown(formatQuantity(Number(value.toPrecision(3)), kind));

/** What was reached and what is borne, such as '6.1 V in reverse, 5.5 V at most'. */
function crossedWords({ crossed, cause }: Damage): string {
	const { quantity, limit, reached } = crossed;
	if (quantity === 'reverse voltage')
		return `${rounded(reached, 'voltage')} in reverse, ${rounded(limit, 'voltage')} at most`;
	if (quantity === 'current') return `${rounded(reached, 'current')}, ${rounded(limit, 'current')} at most`;
	const by = cause === 'transmitter' ? ' from the transmitter' : '';
	return quantity === 'dissipation'
		? `${rounded(reached, 'power')}${by}, ${rounded(limit, 'power')} at most`
		: `${level(reached, 1)}${by || ' at its connector'}, ${shown(formatQuantity(limit, 'level'))} at most`;
}

/** What broke, at what level against which limit: 'Q1: 6.1 V in reverse, 5.5 V at most.' */
export const damageWords = (damage: Damage): string =>
	`${damage.element === null ? '' : `${damage.element}: `}${crossedWords(damage)}.`;

/** What a part is called that a damage event names as `device`, `reflectometer` or by its id. */
const selectionOf = (part: string): Selection =>
	part === 'device' || part === 'reflectometer' ? part : partSelection(part);

/** The broken parts, in the order in which they first broke. */
export function brokenParts(damage: readonly Damage[]): BrokenPart[] {
	return [...new Set(damage.map(({ part }) => part))].map((part) => {
		const events = damage.filter((event) => event.part === part);
		return {
			part,
			name: events[0].name,
			selection: selectionOf(part),
			words: events.map(damageWords)
		};
	});
}
