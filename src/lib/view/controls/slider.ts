/** A named place on a slider's scale. */
export interface Tick {
	readonly at: number;
	readonly text: string;
}

/** Where a value stands on its scale, from 0 to 100. */
export const percentAlong = (value: number, from: number, to: number): number =>
	to === from ? 0 : Math.min(100, Math.max(0, (100 * (value - from)) / (to - from)));

/** The next tick above (`direction` 1) or below (−1) a value; the end of the scale where there is none. */
export function nextTick(
	value: number,
	ticks: readonly Tick[],
	direction: 1 | -1,
	from: number,
	to: number
): number {
	const places = [from, ...ticks.map((tick) => tick.at), to].sort((a, b) => a - b);
	return direction > 0
		? (places.find((place) => place > value) ?? to)
		: (places.findLast((place) => place < value) ?? from);
}
