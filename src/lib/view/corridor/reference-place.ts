/**
 * Where a delay from plane 0 lies along the drawn line, and back. Between two planes it is in proportion; a part
 * without delay is passed at once. Beyond either end the line goes on at its mean scale.
 */
export interface DelayScale {
	/** x of each plane, and the one-way delay from plane 0 to it in seconds. */
	readonly planes: readonly number[];
	readonly delays: readonly number[];
	readonly left: number;
	readonly right: number;
}

/** Pixels per second where the line itself gives no scale: 1 px for 2 ps. */
const BARE_SCALE = 5e11;

/** Nearer to a plane than this, in seconds, the reference plane is at that plane. */
const SAME = 5e-13;

function meanScale({ planes, delays }: DelayScale): number {
	const last = planes.length - 1;
	const span = delays[last] - delays[0];
	return span > 0 ? (planes[last] - planes[0]) / span : BARE_SCALE;
}

/** The plane at this delay, or undefined; of several without delay between them, the one nearest to `near`. */
export function planeAt(scale: DelayScale, delay: number, near: number): number | undefined {
	const found = scale.delays.map((_, k) => k).filter((k) => Math.abs(scale.delays[k] - delay) < SAME);
	return found.sort((a, b) => Math.abs(a - near) - Math.abs(b - near))[0];
}

/** x of a delay, kept within `left` … `right`. */
export function placeOfDelay(scale: DelayScale, delay: number, near: number): number {
	const { planes, delays, left, right } = scale;
	const plane = planeAt(scale, delay, near);
	if (plane !== undefined) return planes[plane];
	const last = planes.length - 1;
	const within = (x: number) => Math.min(right, Math.max(left, x));
	if (delay < delays[0]) return within(planes[0] + (delay - delays[0]) * meanScale(scale));
	if (delay > delays[last]) return within(planes[last] + (delay - delays[last]) * meanScale(scale));
	const k = delays.findIndex((d) => d > delay);
	const part = (delay - delays[k - 1]) / (delays[k] - delays[k - 1]);
	return planes[k - 1] + part * (planes[k] - planes[k - 1]);
}

/** The delay drawn at x; inside a part without delay it is the delay of that part. */
export function delayOfPlace(scale: DelayScale, x: number): number {
	const { planes, delays } = scale;
	const last = planes.length - 1;
	if (x <= planes[0]) return delays[0] + (x - planes[0]) / meanScale(scale);
	if (x >= planes[last]) return delays[last] + (x - planes[last]) / meanScale(scale);
	const k = planes.findIndex((p) => p > x);
	const part = (x - planes[k - 1]) / (planes[k] - planes[k - 1]);
	return delays[k - 1] + part * (delays[k] - delays[k - 1]);
}
