import type { Reals } from '#lib/numeric/reals.ts';

/**
 * Fixed tables of a periodic quantity with `harmonics` H harmonics, sampled `samples` times a period. Its coefficients
 * are [a0, a1, b1, a2, b2, …], x(t) = a0 + Σ a_k·cos kωt + b_k·sin kωt; so the phasor of harmonic k is a_k − j·b_k, peak.
 */
export interface HarmonicTables {
	readonly harmonics: number;
	readonly samples: number;
	/** 2H + 1 coefficients. */
	readonly coefficients: number;
	/** Row c, column m: what coefficient c adds to sample m. */
	readonly synthesis: Reals;
	/** Factor of row c of `synthesis` for the way back: 1/M, then 2/M. */
	readonly analysis: Reals;
	/** Row d, column m: cos dωt/M and sin dωt/M for d = 0 … 2H, for the spectrum of a conductance. */
	readonly cosine: Reals;
	readonly sine: Reals;
}

const kept = new Map<string, HarmonicTables>();

/** The tables for H harmonics; by default 8·H samples. They are made once. */
export function harmonicTables(harmonics: number, samples = 8 * harmonics): HarmonicTables {
	const key = `${harmonics}/${samples}`;
	const found = kept.get(key);
	if (found) return found;
	const coefficients = 2 * harmonics + 1;
	const tables: HarmonicTables = {
		harmonics,
		samples,
		coefficients,
		synthesis: new Float64Array(coefficients * samples),
		analysis: new Float64Array(coefficients).fill(2 / samples),
		cosine: new Float64Array(coefficients * samples),
		sine: new Float64Array(coefficients * samples)
	};
	tables.analysis[0] = 1 / samples;
	for (let m = 0; m < samples; m++) {
		tables.synthesis[m] = 1;
		for (let d = 0; d <= 2 * harmonics; d++) {
			// whole turns taken off first, so that equal angles give equal numbers
			const angle = (2 * Math.PI * ((d * m) % samples)) / samples;
			const cosine = Math.cos(angle);
			const sine = Math.sin(angle);
			tables.cosine[d * samples + m] = cosine / samples;
			tables.sine[d * samples + m] = sine / samples;
			if (d === 0 || d > harmonics) continue;
			tables.synthesis[(2 * d - 1) * samples + m] = cosine;
			tables.synthesis[2 * d * samples + m] = sine;
		}
	}
	kept.set(key, tables);
	return tables;
}

/** Writes the samples of the coefficients from `start` on of `from`. */
export function synthesise(tables: HarmonicTables, from: Reals, start: number, to: Reals): void {
	const { samples, coefficients, synthesis } = tables;
	const constant = from[start];
	for (let m = 0; m < samples; m++) to[m] = constant;
	for (let c = 1; c < coefficients; c += 2) {
		const a = from[start + c];
		const b = from[start + c + 1];
		const row = c * samples;
		const next = row + samples;
		for (let m = 0; m < samples; m++) to[m] += a * synthesis[row + m] + b * synthesis[next + m];
	}
}

/** Writes the coefficients of samples, from `start` on of `to`. */
export function analyse(tables: HarmonicTables, from: Reals, to: Reals, start: number): void {
	const { samples, coefficients, synthesis, analysis } = tables;
	let mean = 0;
	for (let m = 0; m < samples; m++) mean += from[m];
	to[start] = mean * analysis[0];
	for (let c = 1; c < coefficients; c += 2) {
		const row = c * samples;
		const next = row + samples;
		let a = 0;
		let b = 0;
		for (let m = 0; m < samples; m++) {
			const x = from[m];
			a += x * synthesis[row + m];
			b += x * synthesis[next + m];
		}
		to[start + c] = a * analysis[c];
		to[start + c + 1] = b * analysis[c];
	}
}

/** Writes the means of x·cos dωt and x·sin dωt for d = 0 … 2H. */
export function spectrum(tables: HarmonicTables, from: Reals, cosines: Reals, sines: Reals): void {
	const { samples, coefficients, cosine, sine } = tables;
	for (let d = 0; d < coefficients; d++) {
		const row = d * samples;
		let a = 0;
		let b = 0;
		for (let m = 0; m < samples; m++) {
			const x = from[m];
			a += x * cosine[row + m];
			b += x * sine[row + m];
		}
		cosines[d] = a;
		sines[d] = b;
	}
}
