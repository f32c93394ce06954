import { add, at, complexArray, multiply, put, scale } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import type { Covariance } from '#lib/numeric/statistics.ts';
import type { ReadingNoise } from './sweep.ts';

/**
 * How a complex error e of mean zero scatters, a frequency an element: `variance` E|e|², the total of both quadratures,
 * and `relation` E(e²), zero for a circular cloud (Picinbono, IEEE Trans. Signal Processing 44, 1996). Both pass
 * through a complex factor s by |s|² and s², and those of independent errors add.
 */
export interface Scatter {
	readonly variance: Reals;
	readonly relation: ComplexArray;
}

/** No scatter at `length` frequencies. */
export const noScatter = (length: number): Scatter => ({
	variance: new Float64Array(length),
	relation: complexArray(length)
});

/** Adds to `sum` the scatter of an independent error that passes through `factor`. */
export function addScatter(sum: Scatter, scatter: Scatter, factor: ComplexArray): void {
	for (let i = 0; i < sum.variance.length; i++) {
		const s = at(factor, i);
		sum.variance[i] += (s.re * s.re + s.im * s.im) * scatter.variance[i];
		put(sum.relation, i, add(at(sum.relation, i), multiply(multiply(s, s), at(scatter.relation, i))));
	}
}

/**
 * The scatter predicted for the mean of `averages` readings near the noiseless `raw`: floor noise, of which
 * `floorDeviation` is one quadrature, and trace noise, amplitude along the reading and phase across it.
 */
export function readingScatter(
	raw: ComplexArray,
	noise: Pick<ReadingNoise, 'floorDeviation' | 'amplitudeDeviation' | 'phaseDeviation'>,
	averages = 1
): Scatter {
	const out = noScatter(raw.re.length);
	const floor = 2 * noise.floorDeviation ** 2;
	const along = noise.amplitudeDeviation ** 2;
	const across = noise.phaseDeviation ** 2;
	for (let i = 0; i < raw.re.length; i++) {
		const m = at(raw, i);
		const power = m.re * m.re + m.im * m.im;
		out.variance[i] = (floor + power * (along + across)) / averages;
		put(out.relation, i, scale(multiply(m, m), (along - across) / averages));
	}
	return out;
}

/** The same at frequency i as a covariance of real and imaginary part. */
export function covarianceOf(scatter: Scatter, i: number): Covariance {
	const variance = scatter.variance[i];
	const relation: Complex = at(scatter.relation, i);
	return { rr: (variance + relation.re) / 2, ii: (variance - relation.re) / 2, ri: relation.im / 2 };
}
