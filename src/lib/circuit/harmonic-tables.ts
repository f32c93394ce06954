import type { Reals } from '#lib/numeric/reals.ts';

/**
 * Fixed tables of a periodic quantity with `harmonics` H harmonics, sampled `samples` M times a period, M even. Its
 * coefficients are [a0, a1, b1, a2, b2, …], x(t) = a0 + Σ a_k·cos kωt + b_k·sin kωt; so the phasor of harmonic k is
 * a_k − j·b_k, peak.
 *
 * Sample M − m has the cosines of sample m and its sines with the other sign. So the tables hold samples 0 … M/2 only, and
 * every sum is taken over an even and an odd half.
 */
export interface HarmonicTables {
	readonly harmonics: number;
	readonly samples: number;
	/** 2H + 1 coefficients. */
	readonly coefficients: number;
	/** Row d, column m: cos dωt and sin dωt for d = 0 … 2H, m = 0 … M/2. */
	readonly cosine: Reals;
	readonly sine: Reals;
	/** Room for the two halves of one period. */
	readonly even: Reals;
	readonly odd: Reals;
}

const kept = new Map<string, HarmonicTables>();

/** The tables for H harmonics; by default 8·H samples. They are made once. */
export function harmonicTables(harmonics: number, samples = 8 * harmonics): HarmonicTables {
	const key = `${harmonics}/${samples}`;
	const found = kept.get(key);
	if (found) return found;
	const coefficients = 2 * harmonics + 1;
	const half = samples / 2 + 1;
	const tables: HarmonicTables = {
		harmonics,
		samples,
		coefficients,
		cosine: new Float64Array(coefficients * half),
		sine: new Float64Array(coefficients * half),
		even: new Float64Array(half),
		odd: new Float64Array(half)
	};
	for (let m = 0; m < half; m++)
		for (let d = 0; d < coefficients; d++) {
			// whole turns taken off first, so that equal angles give equal numbers
			const angle = (2 * Math.PI * ((d * m) % samples)) / samples;
			tables.cosine[d * half + m] = Math.cos(angle);
			tables.sine[d * half + m] = Math.sin(angle);
		}
	kept.set(key, tables);
	return tables;
}

/** Writes the samples of the coefficients from `start` on of `from`. */
export function synthesise(tables: HarmonicTables, from: Reals, start: number, to: Reals): void {
	const { samples, harmonics, cosine, sine, even, odd } = tables;
	const half = even.length;
	const constant = from[start];
	for (let m = 0; m < half; m++) {
		even[m] = constant;
		odd[m] = 0;
	}
	for (let k = 1; k <= harmonics; k++) {
		const a = from[start + 2 * k - 1];
		const b = from[start + 2 * k];
		const row = k * half;
		for (let m = 0; m < half; m++) {
			even[m] += a * cosine[row + m];
			odd[m] += b * sine[row + m];
		}
	}
	to[0] = even[0];
	to[half - 1] = even[half - 1];
	for (let m = 1; m < half - 1; m++) {
		to[m] = even[m] + odd[m];
		to[samples - m] = even[m] - odd[m];
	}
}

/** Splits samples into the sums and differences of those that share a column of the tables. */
function fold({ samples, even, odd }: HarmonicTables, from: Reals): void {
	const last = even.length - 1;
	even[0] = from[0];
	even[last] = from[last];
	odd[0] = odd[last] = 0;
	for (let m = 1; m < last; m++) {
		const a = from[m];
		const b = from[samples - m];
		even[m] = a + b;
		odd[m] = a - b;
	}
}

/** Writes the coefficients of samples, from `start` on of `to`. */
export function analyse(tables: HarmonicTables, from: Reals, to: Reals, start: number): void {
	const { samples, harmonics, cosine, sine, even, odd } = tables;
	const half = even.length;
	fold(tables, from);
	let mean = 0;
	for (let m = 0; m < half; m++) mean += even[m];
	to[start] = mean / samples;
	const scale = 2 / samples;
	for (let k = 1; k <= harmonics; k++) {
		const row = k * half;
		let a = 0;
		let b = 0;
		for (let m = 0; m < half; m++) {
			a += even[m] * cosine[row + m];
			b += odd[m] * sine[row + m];
		}
		to[start + 2 * k - 1] = a * scale;
		to[start + 2 * k] = b * scale;
	}
}

/** Writes the means of x·cos dωt and x·sin dωt for d = 0 … 2H. */
export function spectrum(tables: HarmonicTables, from: Reals, cosines: Reals, sines: Reals): void {
	const { samples, coefficients, cosine, sine, even, odd } = tables;
	const half = even.length;
	fold(tables, from);
	const scale = 1 / samples;
	for (let d = 0; d < coefficients; d++) {
		const row = d * half;
		let a = 0;
		let b = 0;
		for (let m = 0; m < half; m++) {
			a += even[m] * cosine[row + m];
			b += odd[m] * sine[row + m];
		}
		cosines[d] = a * scale;
		sines[d] = b * scale;
	}
}

/**
 * Size of the two highest harmonics the samples can hold, M/2 − 1 and M/2: where they are not faint, still higher ones
 * are taken for low ones.
 */
export function highest(tables: HarmonicTables, from: Reals): number {
	const { samples, cosine, sine, even, odd } = tables;
	const half = even.length;
	fold(tables, from);
	let last = 0;
	let a = 0;
	let b = 0;
	for (let m = 0, sign = 1; m < half; m++, sign = -sign) {
		last += sign * even[m];
		a += sign * even[m] * cosine[half + m];
		b += sign * odd[m] * sine[half + m];
	}
	return Math.max(Math.abs(last), 2 * Math.hypot(a, b)) / samples;
}
