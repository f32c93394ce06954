import type { Reals } from '#lib/numeric/reals.ts';
import type { HarmonicSystem, Problem } from './harmonic-system.ts';
import { spectrum } from './harmonic-tables.ts';

/**
 * Adds Z·(conductance + d/dt capacitance − g) of every device to the matrix of a system, where the devices were evaluated
 * last; in logarithmic form every derivative is multiplied by dv/dx of its port and dv/dx itself is added too.
 *
 * The block by which the coefficients of one port's voltage act on those of another's current is not a product of
 * matrices: with c_d and s_d the means of g·cos dωt and g·sin dωt, every entry is a sum or difference of two of them,
 * at the sum and the difference of the two harmonics (Kundert & Sangiovanni-Vincentelli 1986: the Toeplitz and Hankel
 * parts of a conversion matrix).
 */
export function addConductance(system: HarmonicSystem, problem: Problem, logarithmic: boolean): void {
	const { tables, laws, evaluations, slope, room } = system;
	const [gc, gs, cc, cs] = room.spectra;
	const { samples } = tables;
	let first = 0;
	for (let d = 0; d < laws.length; d++) {
		const n = laws[d].ports.length;
		const { charged } = laws[d];
		for (let p = 0; p < n; p++)
			for (let q = 0; q < n; q++) {
				const g = evaluations[d].conductance[p * n + q];
				const own = p === q ? laws[d].ports[p].reference : 0;
				const by = slope[first + q];
				const work = room.samples;
				for (let m = 0; m < samples; m++) work[m] = logarithmic ? (g[m] - own) * by[m] : g[m] - own;
				spectrum(tables, work, gc, gs);
				if (charged) {
					const c = evaluations[d].capacitance[p * n + q];
					for (let m = 0; m < samples; m++) work[m] = logarithmic ? c[m] * by[m] : c[m];
					spectrum(tables, work, cc, cs);
				}
				addBlock(system, problem, first + p, first + q, charged);
			}
		if (logarithmic) for (let q = first; q < first + n; q++) addSlope(system, q);
		first += n;
	}
}

/** Rows 2k − 1 and 2k of a block, from its spectrum. */
function blockRows(harmonics: number, k: number, c: Reals, s: Reals, cosRow: Reals, sinRow: Reals): void {
	cosRow[0] = 2 * c[k];
	sinRow[0] = 2 * s[k];
	for (let l = 1; l <= harmonics; l++) {
		const apart = k > l ? k - l : l - k;
		const cd = c[apart];
		const sd = k > l ? s[apart] : -s[apart];
		const ct = c[k + l];
		const st = s[k + l];
		cosRow[2 * l - 1] = cd + ct;
		cosRow[2 * l] = st - sd;
		sinRow[2 * l - 1] = st + sd;
		sinRow[2 * l] = cd - ct;
	}
}

/** The same of the derivative by time of a charge, added to the rows. */
function addRates(
	harmonics: number,
	k: number,
	rate: number,
	c: Reals,
	s: Reals,
	cosRow: Reals,
	sinRow: Reals
): void {
	cosRow[0] += rate * 2 * s[k];
	sinRow[0] -= rate * 2 * c[k];
	for (let l = 1; l <= harmonics; l++) {
		const apart = k > l ? k - l : l - k;
		const cd = c[apart];
		const sd = k > l ? s[apart] : -s[apart];
		const ct = c[k + l];
		const st = s[k + l];
		cosRow[2 * l - 1] += rate * (st + sd);
		cosRow[2 * l] += rate * (cd - ct);
		sinRow[2 * l - 1] -= rate * (cd + ct);
		sinRow[2 * l] -= rate * (st - sd);
	}
}

/** Adds Z times the block of current p by voltage q. */
function addBlock(system: HarmonicSystem, problem: Problem, p: number, q: number, charged: boolean): void {
	const { tables, ports, matrix, size, room } = system;
	const { harmonics, coefficients: count } = tables;
	const [gc, gs, cc, cs] = room.spectra;
	const [cosRow, sinRow] = room.rows;
	const width = size + 1;
	const n = ports.length;
	const omega = 2 * Math.PI * problem.frequency;
	const column = q * count;
	const direct = problem.networks[0].impedance.re;
	for (let r = 0; r < n; r++) {
		const z = direct[r * n + p];
		const row = r * count * width + column;
		matrix[row] += z * gc[0];
		for (let l = 1; l <= harmonics; l++) {
			matrix[row + 2 * l - 1] += z * gc[l];
			matrix[row + 2 * l] += z * gs[l];
		}
	}
	for (let k = 1; k <= harmonics; k++) {
		blockRows(harmonics, k, gc, gs, cosRow, sinRow);
		if (charged) addRates(harmonics, k, k * omega, cc, cs, cosRow, sinRow);
		const { re, im } = problem.networks[k].impedance;
		for (let r = 0; r < n; r++) {
			const resistance = re[r * n + p];
			const reactance = im[r * n + p];
			const upper = (r * count + 2 * k - 1) * width + column;
			const lower = upper + width;
			for (let c = 0; c < count; c++) {
				const a = cosRow[c];
				const b = sinRow[c];
				matrix[upper + c] += resistance * a + reactance * b;
				matrix[lower + c] += resistance * b - reactance * a;
			}
		}
	}
}

/** Adds the block of dv/dx of one port. */
function addSlope({ tables, matrix, size, room, slope }: HarmonicSystem, port: number): void {
	const { harmonics, coefficients: count } = tables;
	const [gc, gs] = room.spectra;
	const [cosRow, sinRow] = room.rows;
	const width = size + 1;
	const start = port * count * width + port * count;
	spectrum(tables, slope[port], gc, gs);
	matrix[start] += gc[0];
	for (let l = 1; l <= harmonics; l++) {
		matrix[start + 2 * l - 1] += gc[l];
		matrix[start + 2 * l] += gs[l];
	}
	for (let k = 1; k <= harmonics; k++) {
		blockRows(harmonics, k, gc, gs, cosRow, sinRow);
		const upper = start + (2 * k - 1) * width;
		for (let c = 0; c < count; c++) {
			matrix[upper + c] += cosRow[c];
			matrix[upper + width + c] += sinRow[c];
		}
	}
}
