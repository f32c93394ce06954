/** Regions that hold a complex mean with 95 % probability. */

/** 95 % point of χ² with two degrees of freedom, −2·ln 0.05. */
export const CHI_SQUARED_95 = 5.991464547107982;

/**
 * The factor k of the 95 % region (x − mean)ᵀ C⁻¹ (x − mean) ≤ k of a complex mean whose covariance C was itself
 * estimated from `n` readings: 2(n − 1)/(n − 2)·F0.95(2, n − 2) (Hotelling 1931; JCGM 102:2011, section 6.5).
 * With two numerator degrees F has a closed form, (m/2)·(0.05^(−2/m) − 1) for m = n − 2.
 * Infinity for n ≤ 2; for large n it falls to `CHI_SQUARED_95`.
 */
export function regionFactor(n: number): number {
	if (n <= 2) return Infinity;
	const m = n - 2;
	return (n - 1) * Math.expm1(CHI_SQUARED_95 / m);
}

/** Covariance of real and imaginary part: variances `rr` and `ii`, covariance `ri`. */
export interface Covariance {
	readonly rr: number;
	readonly ii: number;
	readonly ri: number;
}

/** Half axes in the unit of the data, and the angle of the longer one from the real axis in radians, −π/2 to π/2. */
export interface Ellipse {
	readonly semiMajor: number;
	readonly semiMinor: number;
	readonly angle: number;
}

/** The ellipse xᵀ C⁻¹ x = factor: half axes √(factor·eigenvalue). A circle has angle 0. */
export function ellipse(covariance: Covariance, factor: number): Ellipse {
	const { rr, ii, ri } = covariance;
	const middle = (rr + ii) / 2;
	const half = Math.hypot((rr - ii) / 2, ri);
	const larger = middle + half;
	// determinant / larger keeps the digits of a thin ellipse; rounding may push it just below zero
	const smaller = larger > 0 ? Math.max(0, (rr * ii - ri * ri) / larger) : 0;
	return {
		semiMajor: Math.sqrt(factor * larger),
		semiMinor: Math.sqrt(factor * smaller),
		angle: Math.atan2(2 * ri, rr - ii) / 2
	};
}
