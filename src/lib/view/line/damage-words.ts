import type { Damage, HistoryEvent } from '#lib/bench/history.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import { level, shown, whole } from '#lib/view/numbers.ts';
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
	/** Said of a new one that broke in its first sweep, with how many have been broken by now. */
	readonly again: string | null;
}

/** Figures a limit that was passed is read to, and how many more at most tell what was reached from it. */
const FIGURES = 3;
const MOST_FIGURES = 9;

/** A size to three significant figures: '6.08 V'; to more where its limit would look the same. */
function reachedWords(reached: number, limit: number, kind: 'voltage' | 'current' | 'power'): string {
	let figures = FIGURES;
	while (figures < MOST_FIGURES && Number(reached.toPrecision(figures)) === limit) figures += 1;
	return shown(formatQuantity(Number(reached.toPrecision(figures)), kind));
}

/** A level to one decimal; to more where its limit would look the same. */
function reachedLevel(reached: number, limit: number): string {
	let decimals = 1;
	while (decimals < MOST_FIGURES && Number(reached.toFixed(decimals)) === limit) decimals += 1;
	return level(reached, decimals);
}

/** What was reached and what is borne, such as '6.1 V in reverse, 5.5 V at most'. */
function crossedWords({ crossed, cause }: Damage): string {
	const { quantity, limit, reached } = crossed;
	const words = (kind: 'voltage' | 'current' | 'power', where: string) =>
		`${reachedWords(reached, limit, kind)}${where}, ${shown(formatQuantity(limit, kind))} at most`;
	if (quantity === 'reverse voltage') return words('voltage', ' in reverse');
	if (quantity === 'current') return words('current', '');
	const by = cause === 'transmitter' ? ' from the transmitter' : '';
	return quantity === 'dissipation'
		? words('power', by)
		: `${reachedLevel(reached, limit)}${by || ' at its connector'}, ${shown(formatQuantity(limit, 'level'))} at most`;
}

/** What broke, at what level against which limit: 'Q1: 6.1 V in reverse, 5.5 V at most.' */
export const damageWords = (damage: Damage): string =>
	`${damage.element === null ? '' : `${damage.element}: `}${crossedWords(damage)}.`;

/** What a part is called that a damage event names as `device`, `reflectometer` or by its id. */
const selectionOf = (part: string): Selection =>
	part === 'device' || part === 'reflectometer' ? part : partSelection(part);

/** 'The new one broke at once: 2 broken so far.' Null for the first one, and for one that stood a sweep or more. */
function againWords({ part, name }: Damage, events: readonly HistoryEvent[]): string | null {
	const renewed = events.findLastIndex((event) => event.kind === 'part replaced' && event.part === part);
	const since = renewed < 0 ? [] : events.slice(renewed + 1);
	const broke = since.findIndex((event) => event.kind === 'damage' && event.part === part);
	if (broke < 0) return null;
	const stood = since.slice(0, broke).filter((event) => event.kind === 'sweeps');
	// the sweep that broke it is one of them
	if (stood.reduce((sum, { count }) => sum + count, 0) > 1) return null;
	let broken = 0;
	let isWhole = true;
	for (const event of events) {
		if (event.kind === 'part replaced' && event.part === part) isWhole = true;
		if (event.kind !== 'damage' || event.part !== part || event.name !== name || !isWhole) continue;
		broken += 1;
		isWhole = false;
	}
	return `The new one broke at once: ${whole(broken)} broken so far.`;
}

/** The broken parts, in the order in which they first broke. `events` of the bench tell which of them are new ones. */
export function brokenParts(damage: readonly Damage[], events: readonly HistoryEvent[] = []): BrokenPart[] {
	return [...new Set(damage.map(({ part }) => part))].map((part) => {
		const own = damage.filter((event) => event.part === part);
		return {
			part,
			name: own[0].name,
			selection: selectionOf(part),
			words: own.map(damageWords),
			again: againWords(own[0], events)
		};
	});
}
