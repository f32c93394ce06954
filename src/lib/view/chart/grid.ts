import { argument, complex, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { gammaFromImpedance } from '#lib/network/impedance.ts';

/**
 * The grid of the Smith chart in the plane of Γ, from its formulas (P. H. Smith, *Electronics*, January 1939;
 * Pozar, *Microwave Engineering*, 4th ed., 2012, section 2.4): with z = r + jx the normalised impedance, lines of
 * constant r are circles about r/(1 + r) with radius 1/(1 + r), lines of constant x circles about 1 + j/x with
 * radius 1/|x|.
 */
export interface Circle {
	readonly centre: Complex;
	readonly radius: number;
}

/** Part of a circle, from one angle about its centre to another (radians, anticlockwise when `to` is larger). */
export interface Arc extends Circle {
	readonly from: number;
	readonly to: number;
}

/** Normalised values that have a line; times 50 Ω they are 10, 25, 50, 100 and 250 Ω. */
export const GRID_VALUES = [0.2, 0.5, 1, 2, 5] as const;

/** Γ of a normalised impedance r + jx. */
export const gammaAt = (r: number, x: number): Complex => gammaFromImpedance(complex(r, x), 1);

export const resistanceCircle = (r: number): Circle => ({
	centre: complex(r / (1 + r)),
	radius: 1 / (1 + r)
});

/** For x other than zero; x = 0 is the real axis. */
export const reactanceCircle = (x: number): Circle => ({
	centre: complex(1, 1 / x),
	radius: 1 / Math.abs(x)
});

/** Minor lines stop before they crowd: circles of r at this |x|, arcs of x at this r; the others run on to the open. */
const STOP_OF_RESISTANCE: ReadonlyMap<number, number> = new Map([
	[0.2, 2],
	[0.5, 5]
]);
const STOP_OF_REACTANCE: ReadonlyMap<number, number> = new Map([
	[0.2, 2],
	[0.5, 5],
	[1, 5]
]);

/** The line of constant r as an arc: from +x through the short side of the real axis to −x, or the whole circle. */
export function resistanceArc(r: number): Arc {
	const circle = resistanceCircle(r);
	const stop = STOP_OF_RESISTANCE.get(r);
	if (stop === undefined) return { ...circle, from: 0, to: 2 * Math.PI };
	const from = argument(subtract(gammaAt(r, stop), circle.centre));
	return { ...circle, from, to: 2 * Math.PI - from };
}

/** The line of constant x as an arc: from the rim (r = 0) inward, to where it stops or to the open, Γ = 1. */
export function reactanceArc(x: number): Arc {
	const circle = reactanceCircle(x);
	const stop = STOP_OF_REACTANCE.get(Math.abs(x));
	const angle = (gamma: Complex) => argument(subtract(gamma, circle.centre));
	const from = angle(gammaAt(0, x));
	const to = stop === undefined ? -Math.sign(x) * (Math.PI / 2) : angle(gammaAt(stop, x));
	// Above the real axis the arc turns anticlockwise from the rim to the open, below it clockwise.
	const whole = 2 * Math.PI;
	const turn = x > 0 ? (to - from + whole) % whole : -((from - to + whole) % whole);
	return { ...circle, from, to: from + turn };
}

/** The point of an arc at an angle about its centre. */
export const arcPoint = (arc: Circle, angle: number): Complex =>
	complex(arc.centre.re + arc.radius * Math.cos(angle), arc.centre.im + arc.radius * Math.sin(angle));
