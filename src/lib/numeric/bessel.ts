/**
 * Modified Bessel functions of the first kind, scaled so that they never overflow: e^(−x)·I0(x) and e^(−x)·I1(x) for
 * x ≥ 0. Up to 30 the power series, whose terms are all positive (Abramowitz & Stegun, *Handbook of Mathematical
 * Functions*, 1964, 9.6.10), beyond it the asymptotic series (9.7.1). Relative error below 1e-14. A negative x or NaN
 * gives NaN, Infinity gives 0.
 */

/** From here on the asymptotic series reaches the last digit before its terms begin to grow. */
const FAR = 30;

export const scaledBessel0 = (x: number): number => scaledBessel(x, 0);
export const scaledBessel1 = (x: number): number => scaledBessel(x, 1);

function scaledBessel(x: number, order: 0 | 1): number {
	// a series of NaN would never end
	if (!(x >= 0)) return NaN;
	return x < FAR ? near(x, order) : far(x, order);
}

/** e^(−x)·(x/2)^n·Σ (x²/4)^k/(k!·(k + n)!) for n = 0 or 1. */
function near(x: number, order: 0 | 1): number {
	const quarter = (x * x) / 4;
	let term = order === 0 ? 1 : x / 2;
	let sum = 0;
	for (let k = 1; sum + term !== sum; k++) {
		sum += term;
		term *= quarter / (k * (k + order));
	}
	return Math.exp(-x) * sum;
}

/** Σ (−1)^k·(4n² − 1)(4n² − 9)…(4n² − (2k − 1)²)/(k!·(8x)^k), over √(2πx). */
function far(x: number, order: 0 | 1): number {
	const square = 4 * order * order;
	let term = 1;
	let sum = 0;
	for (let k = 1; sum + term !== sum; k++) {
		sum += term;
		term *= ((2 * k - 1) ** 2 - square) / (8 * k * x);
	}
	return sum / Math.sqrt(2 * Math.PI * x);
}
