import { complexArray } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';

/**
 * Smoothing: a moving mean along frequency of complex readings. It is not averaging: it mixes neighbouring points of the
 * same sweep, so it quietens white noise but bends whatever changes within its window, and neighbours move together.
 *
 * The window is the point itself and `half` points on either side. Nearer to an end than that it shortens on both sides
 * alike, down to the end point alone: so it stays centred, a straight line stays straight, and the ends stay noisy.
 */

/**
 * Points on either side for a window over `percent` (0 … 100) of the span of `points` evenly spaced points, to the nearest
 * odd number of points. 0 % is no smoothing.
 */
export function smoothingHalf(percent: number, points: number): number {
	const most = Math.floor((points - 1) / 2);
	return Math.max(0, Math.min(most, Math.round(((percent / 100) * (points - 1)) / 2)));
}

/** Points in the window of point i of `points`: 2·half + 1, fewer near the ends. */
export const smoothingWindow = (i: number, points: number, half: number): number =>
	2 * Math.min(half, i, points - 1 - i) + 1;

/**
 * Correlation of the smoothed points i and j if the noise of the points is white and everywhere the same: common points of
 * the two windows over √(M_i·M_j), so 1 − |i − j|/M away from the ends. The standard deviation of point i falls by 1/√M_i.
 */
export function smoothingCorrelation(i: number, j: number, points: number, half: number): number {
	const [first, second] = [smoothingWindow(i, points, half), smoothingWindow(j, points, half)];
	const low = Math.max(i - (first - 1) / 2, j - (second - 1) / 2);
	const high = Math.min(i + (first - 1) / 2, j + (second - 1) / 2);
	return Math.max(0, high - low + 1) / Math.sqrt(first * second);
}

/**
 * `data` smoothed with `half` (0 or more, whole) points on either side, written to `out`, which must not be `data`. A point
 * that is not finite makes all the windows it is in NaN. The work does not grow with the window.
 */
export function smooth(
	data: ComplexArray,
	half: number,
	out: ComplexArray = complexArray(data.re.length)
): ComplexArray {
	const points = data.re.length;
	let [low, high] = [0, -1]; // the window, ends included
	let [re, im, lost] = [0, 0, 0]; // sums of its finite points, number of the others
	for (let i = 0; i < points; i++) {
		const reach = Math.min(half, i, points - 1 - i);
		while (high < i + reach) {
			high++;
			if (isFinite(data.re[high] + data.im[high])) {
				re += data.re[high];
				im += data.im[high];
			} else lost++;
		}
		while (low < i - reach) {
			if (isFinite(data.re[low] + data.im[low])) {
				re -= data.re[low];
				im -= data.im[low];
			} else lost--;
			low++;
		}
		const count = high - low + 1;
		out.re[i] = lost > 0 ? NaN : re / count;
		out.im[i] = lost > 0 ? NaN : im / count;
	}
	return out;
}
