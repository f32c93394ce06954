import {
	add,
	argument,
	complex,
	divide,
	magnitude,
	multiply,
	ONE,
	scale,
	subtract
} from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';

/** Scattering parameters at one frequency: `[i][j]`, wave out of port i for a wave into port j. */
export type Waves = readonly (readonly Complex[])[];

/** What rounding may do to a part without loss. */
const ROUNDING = 1e-9;
/** A port that nothing reaches counts as reached by this much: its waves can be scaled away. */
const FAINTEST = 1e-12;
const SCALINGS = 4;

/** Gives the parts of a matrix their turn as pivots, without exchanges, and returns the pivots. */
function pivots(matrix: Complex[][]): readonly Complex[] {
	return matrix.map((row, k) => {
		for (const below of matrix.slice(k + 1)) {
			const factor = divide(below[k], row[k]);
			for (let j = k + 1; j < row.length; j++) below[j] = subtract(below[j], multiply(factor, row[j]));
		}
		return row[k];
	});
}

/**
 * Angle of det(1 − S·Γ), what ends Γ do to the determinant of a circuit in 50 Ω: the sum of the angles of 1 − Γ·(reflection
 * of the port with those before it ended). Each lies within ±90° where `isTame`, and the sum then goes continuously from 0
 * to its value as the ends grow from 50 Ω; elsewhere it is known but for whole turns.
 */
export function endedAngle(waves: Waves, ends: readonly Complex[]): number {
	const matrix = waves.map((row, i) =>
		row.map((s, j) => subtract(complex(i === j ? 1 : 0), multiply(s, ends[j])))
	);
	return pivots(matrix).reduce((sum, pivot) => sum + argument(pivot), 0);
}

/** |S| with the waves of every port scaled so that as much comes out of it as goes in. */
function balanced(waves: Waves): Waves {
	const s = waves.map((row) => [...row]);
	if (s.length < 2) return s;
	for (let k = 0; k < SCALINGS; k++)
		for (let i = 0; i < s.length; i++) {
			let [out, into] = [FAINTEST, FAINTEST];
			for (let j = 0; j < s.length; j++)
				if (j !== i) {
					out += magnitude(s[i][j]) ** 2;
					into += magnitude(s[j][i]) ** 2;
				}
			const factor = (into / out) ** 0.25;
			for (let j = 0; j < s.length; j++)
				if (j !== i) {
					s[i][j] = scale(s[i][j], factor);
					s[j][i] = scale(s[j][i], 1 / factor);
				}
		}
	return s;
}

/**
 * True if no passive ends whatever bring det(1 − S·Γ) to zero: with its waves scaled port by port the circuit lets out no
 * more than goes in (Doyle, IEE Proc. D 129(6), 1982, the upper bound of the structured singular value). For two ports it
 * is the condition of unconditional stability, for more it is sufficient.
 */
export function isTame(waves: Waves): boolean {
	const s = balanced(waves);
	const matrix = s.map((_, i) =>
		s.map((__, j) => {
			const sum = s.reduce(
				(total, row) => add(total, multiply({ re: row[i].re, im: -row[i].im }, row[j])),
				complex(0)
			);
			return subtract(i === j ? scale(ONE, 1 + ROUNDING) : complex(0), sum);
		})
	);
	return pivots(matrix).every(({ re }) => re > 0);
}
