import { add, complex, divide, magnitude, multiply, negate, scale, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import type { NetworkParameter } from './touchstone-options.ts';

/** The matrix of a one-port (one entry) or two-port (11, 12, 21, 22) at one frequency. */
export type PortMatrix = readonly Complex[];

/**
 * A determinant smaller than this part of the terms it is made of has lost more than nine of some sixteen digits:
 * nothing computed from it could be trusted.
 */
const CANCELLED = 1e-9;

/** m + x·1. */
const plusDiagonal = (m: PortMatrix, x: number): PortMatrix =>
	m.map((entry, i) => (i === 0 || i === 3 ? complex(entry.re + x, entry.im) : entry));

const scaled = (m: PortMatrix, x: number): PortMatrix => m.map((entry) => scale(entry, x));

/** a·b⁻¹, or null where b has no inverse that sixteen digits can hold. */
function rightDivide(a: PortMatrix, b: PortMatrix): PortMatrix | null {
	if (b.length === 1) return b[0].re === 0 && b[0].im === 0 ? null : [divide(a[0], b[0])];
	const straight = multiply(b[0], b[3]);
	const crossed = multiply(b[1], b[2]);
	const determinant = subtract(straight, crossed);
	if (!(magnitude(determinant) > CANCELLED * (magnitude(straight) + magnitude(crossed)))) return null;
	const adjoint = [b[3], negate(b[1]), negate(b[2]), b[0]];
	const entry = (row: number, column: number): Complex =>
		divide(
			add(multiply(a[2 * row], adjoint[column]), multiply(a[2 * row + 1], adjoint[2 + column])),
			determinant
		);
	return [entry(0, 0), entry(0, 1), entry(1, 0), entry(1, 1)];
}

/**
 * S parameters from impedances or admittances normalised to the reference resistance R (z = Z/R, y = Y·R):
 * S = (z − 1)(z + 1)⁻¹ and S = (1 − y)(1 + y)⁻¹; S itself stays as it is.
 * Null where there are none (z or y has the eigenvalue −1) or cancellation leaves no usable digits.
 * Source: Pozar, Microwave Engineering, 4th edition 2012, section 4.3, for Z; Y by duality.
 */
export function scatteringFrom(parameter: NetworkParameter, m: PortMatrix): PortMatrix | null {
	if (parameter === 'S') return m;
	return rightDivide(
		plusDiagonal(parameter === 'Z' ? m : scaled(m, -1), parameter === 'Z' ? -1 : 1),
		plusDiagonal(m, 1)
	);
}

/**
 * S parameters at the reference resistance `to` from those at `from` (ohms, the same at every port):
 * S′ = (S − ρ)(1 − ρS)⁻¹ with ρ = (to − from)/(to + from). Null where there are none.
 * Source: Kurokawa, Power Waves and the Scattering Matrix, IEEE Trans. MTT-13, 1965, for real references; it follows
 * from a = (V + RI)/(2√R), b = (V − RI)/(2√R) written for both resistances.
 */
export function renormalised(s: PortMatrix, from: number, to: number): PortMatrix | null {
	if (from === to) return s;
	const rho = (to - from) / (to + from);
	return rightDivide(plusDiagonal(s, -rho), plusDiagonal(scaled(s, -rho), 1));
}
