import type { Picture } from '#lib/bench/picture.ts';
import { at } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { impedanceFromGamma } from '#lib/network/impedance.ts';

/** The chart as numbers. */
export interface TableRow {
	readonly frequency: number;
	readonly gamma: Complex;
	readonly impedance: Complex;
	/** The device's impedance at its own connector, at rest. */
	readonly truth: Complex;
	/** The same at the present drive; NaN where no state was found. */
	readonly driven: Complex;
}

export const MOST_ROWS = 21;

/** Indices spread evenly over `count` points, first and last among them; all of them if they are few. */
export function spreadIndices(count: number, most = MOST_ROWS): readonly number[] {
	const rows = Math.min(count, most);
	if (rows < 2) return rows === 1 ? [0] : [];
	return Array.from({ length: rows }, (_, k) => Math.round((k * (count - 1)) / (rows - 1)));
}

export const tableRows = (picture: Picture): readonly TableRow[] =>
	spreadIndices(picture.frequencies.length).map((i) => {
		const gamma = at(picture.displayed, i);
		return {
			frequency: picture.frequencies[i],
			gamma,
			impedance: impedanceFromGamma(gamma),
			truth: impedanceFromGamma(at(picture.truth, i)),
			driven: impedanceFromGamma(at(picture.driven, i))
		};
	});
