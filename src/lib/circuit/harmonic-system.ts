import type { Reals } from '#lib/numeric/reals.ts';
import { harmonicTables } from './harmonic-tables.ts';
import type { HarmonicTables } from './harmonic-tables.ts';
import { evaluation } from './laws.ts';
import type { Evaluation, Law, PortLaw } from './laws.ts';
import type { HarmonicNetwork } from './reduced-network.ts';

/**
 * The equations of harmonic balance and room to solve them in (Kundert & Sangiovanni-Vincentelli 1986; Maas, *Nonlinear
 * Microwave and RF Circuits*, 2nd ed., 2003, chapter 3). Unknowns: the coefficients of each device port's voltage, one
 * port after the other. With v = T·U, I = T⁺·i(v) + d/dt T⁺·q(v) − g·U:
 *
 * F = U − rest − drive·e + Z·I = 0.
 *
 * In logarithmic form the unknowns are the coefficients of a variable x that the voltage follows as v(x), straight up to
 * the knee of a junction and logarithmic above, so that a large step of x is a small one of v.
 */
export interface HarmonicSystem {
	readonly tables: HarmonicTables;
	readonly laws: readonly Law[];
	readonly ports: readonly PortLaw[];
	/** Number of unknowns. */
	readonly size: number;
	/** size × (size + 1), the Jacobian and −F. */
	readonly matrix: Reals;
	readonly residual: Reals;
	/** Coefficients of the current into each device port, less `reference`·U, where the last residual was taken. */
	readonly load: Reals;
	/** Samples of each port there: voltage, and in logarithmic form dv/dx. */
	readonly voltage: readonly Reals[];
	readonly slope: readonly Reals[];
	readonly evaluations: readonly Evaluation[];
	/** Coefficients of each port's voltage there. */
	readonly coefficients: Reals;
	readonly room: {
		readonly charge: Reals;
		readonly samples: Reals;
		readonly spectra: readonly [Reals, Reals, Reals, Reals];
		readonly rows: readonly [Reals, Reals];
	};
}

/** What is solved: the linear part up to at least the harmonics of the system, and the drive e in V. */
export interface Problem {
	readonly frequency: number;
	readonly networks: readonly HarmonicNetwork[];
	readonly drive: number;
}

export function harmonicSystem(laws: readonly Law[], harmonics: number, samples?: number): HarmonicSystem {
	const tables = harmonicTables(harmonics, samples);
	const ports = laws.flatMap((law) => law.ports);
	const size = ports.length * tables.coefficients;
	const block = (length: number): Reals => new Float64Array(length);
	return {
		tables,
		laws,
		ports,
		size,
		matrix: block(size * (size + 1)),
		residual: block(size),
		load: block(size),
		voltage: ports.map(() => block(tables.samples)),
		slope: ports.map(() => block(tables.samples)),
		evaluations: laws.map((law) => evaluation(law.ports.length, tables.samples)),
		coefficients: block(size),
		room: {
			charge: block(tables.coefficients),
			samples: block(tables.samples),
			spectra: [
				block(tables.coefficients),
				block(tables.coefficients),
				block(tables.coefficients),
				block(tables.coefficients)
			],
			rows: [block(tables.coefficients), block(tables.coefficients)]
		}
	};
}
