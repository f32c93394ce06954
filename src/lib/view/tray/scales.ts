import type { Tick } from '#lib/view/controls/slider.ts';
import { MINUS } from '#lib/view/numbers.ts';

/** Bandwidths offered, in Hz: 1 and 3 in each decade. */
export const bandwidths: readonly number[] = [10, 30, 100, 300, 1e3, 3e3, 1e4, 3e4];

const signed = (value: number): string => (value < 0 ? `${MINUS}${-value}` : String(value));

/** Ticks at round numbers, four to six of them, for a scale from `from` to `to`. */
export function ticksBetween(from: number, to: number): Tick[] {
	const step =
		[1, 2, 5, 10, 20, 50, 100, 200, 500].find((s) => Math.floor(to / s) - Math.ceil(from / s) <= 5) ?? 1000;
	const first = Math.ceil(from / step);
	const count = Math.floor(to / step) - first + 1;
	return Array.from({ length: count }, (_, i) => (first + i) * step).map((at) => ({ at, text: signed(at) }));
}

/** Averages stand on their slider by powers of two, 1 to 1024. */
export const mostOnSlider = 10;
export const averagesAt = (position: number): number => 2 ** Math.round(position);
export const averagesPosition = (averages: number): number => Math.log2(averages);
export const averagesTicks: readonly Tick[] = [0, 2, 4, 6, 8, 10].map((at) => ({
	at,
	text: String(2 ** at)
}));
