import { line } from 'd3-shape';
import { magnitude, polar, argument, complex } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { arcPoint } from './grid.ts';
import type { Arc } from './grid.ts';

/** Where Γ stands on the drawing. Pixels are those of its own view box, y downward. */
export interface Point {
	readonly x: number;
	readonly y: number;
}

export interface Frame {
	readonly centre: Point;
	/** Pixels of |Γ| = 1. */
	readonly unit: number;
}

export const WIDTH = 332;
export const HEIGHT = 340;
/** Radius of all that can be shown; the rim |Γ| = 1 itself as long as nothing lies beyond it. */
export const RADIUS = 140;
const CENTRE: Point = { x: 168, y: 166 };

/** The |Γ| the drawing reaches to: 1, or more when a reading lies beyond the rim. */
const REACHES = [1, 1.25, 1.6, 2, 3] as const;

export const frameFor = (reach: number): Frame => ({ centre: CENTRE, unit: RADIUS / reach });

/**
 * How far the drawing must reach for the largest |Γ| on it. It falls back only once a smaller one would hold it with
 * room to spare, so that noise near a step does not make the chart breathe.
 */
export function reachFor(largest: number, previous = 1): number {
	const most = REACHES[REACHES.length - 1];
	const fitting = REACHES.find((reach) => largest <= reach * 1.0005) ?? most;
	if (fitting >= previous) return fitting;
	return (
		REACHES.find((reach) => reach < previous && largest <= reach * 0.95 + (reach === 1 ? 0.05 : 0)) ??
		previous
	);
}

/** The largest finite |Γ| of a trace. */
export function largestMagnitude(values: ComplexArray): number {
	let largest = 0;
	for (let i = 0; i < values.re.length; i++) {
		const size = Math.hypot(values.re[i], values.im[i]);
		if (size > largest && size < Infinity) largest = size;
	}
	return largest;
}

export const toPoint = (frame: Frame, gamma: Complex): Point => ({
	x: frame.centre.x + gamma.re * frame.unit,
	y: frame.centre.y - gamma.im * frame.unit
});

export const toGamma = (frame: Frame, point: Point): Complex =>
	complex((point.x - frame.centre.x) / frame.unit, (frame.centre.y - point.y) / frame.unit);

/** Γ moved straight inward to the edge of the drawing if it lies beyond it. */
export function held(frame: Frame, gamma: Complex): Complex {
	const most = RADIUS / frame.unit;
	return magnitude(gamma) > most ? polar(most, argument(gamma)) : gamma;
}

export const isFinitePoint = (gamma: Complex): boolean =>
	Number.isFinite(gamma.re) && Number.isFinite(gamma.im);

/** A coordinate for SVG text, to a thousandth of a pixel. */
export const coordinate = (value: number): string => String(Math.round(value * 1000) / 1000 + 0);

const pair = (p: Point): string => `${coordinate(p.x)} ${coordinate(p.y)}`;

/** The SVG path of an arc; a whole circle is drawn as two halves. */
export function arcPath(frame: Frame, arc: Arc): string {
	const turn = arc.to - arc.from;
	const radius = coordinate(arc.radius * frame.unit);
	const point = (angle: number) => pair(toPoint(frame, arcPoint(arc, angle)));
	// Anticlockwise about the centre, with y downward, is SVG's sweep flag 0.
	const sweep = turn > 0 ? 0 : 1;
	const parts = Math.abs(turn) > Math.PI ? 2 : 1;
	let path = `M${point(arc.from)}`;
	for (let k = 1; k <= parts; k++)
		path += `A${radius} ${radius} 0 0 ${sweep} ${point(arc.from + (turn * k) / parts)}`;
	return path;
}

/** A line with one decimal place that breaks where a value is not finite. */
const trace = line()
	.digits(1)
	.defined(([x, y]) => Number.isFinite(x) && Number.isFinite(y));

/**
 * The path of a trace. Points nearer than `least` pixels to the last one drawn are left out, so that 100 000 points
 * cost no more than the line they make; values that are not finite break it.
 */
export function tracePath(frame: Frame, values: ComplexArray, least = 0.4): string {
	const last = values.re.length - 1;
	const points: [number, number][] = [];
	let [x, y] = [NaN, NaN];
	for (let i = 0; i <= last; i++) {
		const px = frame.centre.x + values.re[i] * frame.unit;
		const py = frame.centre.y - values.im[i] * frame.unit;
		if (i !== last && Math.abs(px - x) + Math.abs(py - y) < least) continue;
		points.push([px, py]);
		[x, y] = [px, py];
	}
	return trace(points) ?? '';
}
