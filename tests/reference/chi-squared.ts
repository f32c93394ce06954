/**
 * The interval of χ²/n for n degrees of freedom that a sound sample leaves with the probability 1e-4, half on either
 * side: Wilson & Hilferty, Proc. Nat. Acad. Sci. 17, 1931, good to five digits for the n of hundreds used here.
 */
export function chiSquaredInterval(n: number): readonly [number, number] {
	const deviations = 3.8906; // normal quantile of 1 − 0.5e-4
	const width = deviations * Math.sqrt(2 / (9 * n));
	return [(1 - 2 / (9 * n) - width) ** 3, (1 - 2 / (9 * n) + width) ** 3];
}
