/**
 * Sweep averaging: a plain running mean of the first N sweeps, from then on an exponential one, in which every new sweep
 * counts 1 and all that was there before (N − 1)/N. `averages` is N, a whole number from 1 up.
 */

/** Sum of the weights of the sweeps taken, and sum of their squares. */
export interface AverageWeight {
	readonly sum: number;
	readonly squares: number;
}

/** The weight before the first sweep. */
export const NO_WEIGHT: AverageWeight = { sum: 0, squares: 0 };

/** What part of the sums is kept when one more sweep is added to the `taken` ones. */
export const keptFraction = (taken: number, averages: number): number =>
	taken < averages ? 1 : (averages - 1) / averages;

/** The weight once one more sweep is added. The sum of weights is the number of sweeps taken, up to N, where it stays. */
export function nextWeight(weight: AverageWeight, averages: number): AverageWeight {
	const kept = keptFraction(Math.round(weight.sum), averages);
	return { sum: kept * weight.sum + 1, squares: kept * kept * weight.squares + 1 };
}

/**
 * How many equally weighted readings have a mean as quiet as this one: (Σw)²/Σw². It is the number of sweeps up to N and
 * then rises to 2N − 1, as for any first-order recursive average of white noise. Before the first sweep it is NaN.
 */
export const effectiveNumber = (weight: AverageWeight): number => (weight.sum * weight.sum) / weight.squares;

/** `effectiveNumber` after `taken` sweeps, without going through them; 0 before the first. */
export function effectiveAverages(taken: number, averages: number): number {
	if (taken <= averages) return taken;
	const faded = ((averages - 1) / averages) ** (2 * (taken - averages));
	return 1 / (faded / averages + (1 - faded) / (2 * averages - 1));
}
