/** Standard errors that a sound sample exceeds on one of the two sides with the probability 1e-4. */
export const FAR_OFF = 3.8906;

export const meanOf = (values: ArrayLike<number>): number =>
	Array.from(values).reduce((sum, value) => sum + value, 0) / values.length;

/** Unbiased, so with the degrees of freedom of the sample less one. */
export function varianceOf(values: ArrayLike<number>): number {
	const mean = meanOf(values);
	return Array.from(values).reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1);
}
