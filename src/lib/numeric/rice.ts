import { scaledBessel0, scaledBessel1 } from './bessel.ts';

/**
 * The magnitude of a complex number `centre` away from zero with normal noise of standard deviation `deviation` in each
 * quadrature: the distribution of |Γ| as it is read (Rice, Bell System Technical Journal 24, 1945, section 3.10). Its
 * mean square is centre² + 2·deviation², so noise makes a reflection look larger than it is. All arguments ≥ 0, in one
 * unit; `deviation` 0 is no noise.
 */

/**
 * Mean of the magnitude: σ·√(π/2)·((1 + 2q)·e^(−q)I0(q) + 2q·e^(−q)I1(q)) with q = ν²/(4σ²). Relative error below
 * 1e-13. Without a centre it is 1.2533·σ, far from zero ν + σ²/(2ν).
 */
export function riceMean(centre: number, deviation: number): number {
	if (deviation === 0) return centre;
	const q = (centre / deviation) ** 2 / 4;
	return deviation * Math.sqrt(Math.PI / 2) * ((1 + 2 * q) * scaledBessel0(q) + 2 * q * scaledBessel1(q));
}

/** Beyond this many deviations from the centre there is less than 1e-17 of the distribution. */
const REACH = 9;
/** Width of a panel of the integral, deviations. */
const PANEL = 0.5;
/** Gauss-Legendre nodes and weights for five points on −1 … 1 (Abramowitz & Stegun, 1964, table 25.4). */
const INNER = Math.sqrt(5 - 2 * Math.sqrt(10 / 7)) / 3;
const OUTER = Math.sqrt(5 + 2 * Math.sqrt(10 / 7)) / 3;
const NODES = [-OUTER, -INNER, 0, INNER, OUTER];
const INNER_WEIGHT = (322 + 13 * Math.sqrt(70)) / 900;
const OUTER_WEIGHT = (322 - 13 * Math.sqrt(70)) / 900;
const WEIGHTS = [OUTER_WEIGHT, INNER_WEIGHT, 128 / 225, INNER_WEIGHT, OUTER_WEIGHT];

/**
 * Probability that the magnitude is at most `magnitude`: the density integrated from the lower end of its reach in
 * panels of half a deviation. Absolute error below 1e-11. Without noise it is a step from 0 to 1 at the
 * centre, where it is 1.
 */
export function riceProbability(magnitude: number, centre: number, deviation: number): number {
	if (deviation === 0) return magnitude >= centre ? 1 : 0;
	const nu = centre / deviation;
	const end = magnitude / deviation;
	if (end >= nu + REACH) return 1;
	const begin = Math.max(0, nu - REACH);
	if (end <= begin) return 0;
	const panels = Math.ceil((end - begin) / PANEL);
	const half = (end - begin) / panels / 2;
	let sum = 0;
	for (let k = 0; k < panels; k++) {
		const middle = begin + (2 * k + 1) * half;
		for (let n = 0; n < NODES.length; n++) sum += WEIGHTS[n] * density(middle + half * NODES[n], nu);
	}
	return Math.min(1, sum * half);
}

/** r·e^(−(r² + ν²)/2)·I0(r·ν), written so that nothing overflows. */
const density = (r: number, nu: number): number => r * Math.exp(-((r - nu) ** 2) / 2) * scaledBessel0(r * nu);
