import { complexArray } from '#lib/numeric/complex.ts';
import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { CHI_SQUARED_95, ellipse, regionFactor } from '#lib/numeric/statistics.ts';
import type { Covariance } from '#lib/numeric/statistics.ts';
import { impedanceFromGamma, returnLossDb, swr } from '#lib/network/impedance.ts';
import type { AverageWeight } from '#lib/reflectometer/averaging.ts';
import { effectiveNumber } from '#lib/reflectometer/averaging.ts';
import type { SweepRows } from '#lib/reflectometer/sweep.ts';
import type { MarkerPlace, MarkerReading } from './picture.ts';

/** Single readings a marker keeps for its cloud. */
export const CLOUD = 256;
/** A turn of Γ between two points beyond which a value in between is not to be trusted: 20°. */
const COARSE = Math.PI / 9;

/**
 * Follows one frequency through the sweeps. Between two points it interpolates complex Γ on a straight line; its
 * scatter is that of the interpolated reading. The average is kept as the sweep engine keeps it; the scatter is that of
 * the readings in the cloud, so that it is known even where every sweep replaces the one before.
 */
export class Marker {
	readonly #left: number;
	readonly #right: number;
	readonly #share: number;
	readonly #cloud: ComplexArray = complexArray(CLOUD);
	#taken = 0;
	#sums = { re: 0, im: 0 };

	/** `position` in points from the start of the sweep, not necessarily whole. */
	constructor(position: number) {
		this.#left = Math.floor(position);
		this.#right = Math.ceil(position);
		this.#share = position - this.#left;
	}

	restart(): void {
		this.#taken = 0;
		this.#sums = { re: 0, im: 0 };
	}

	/** Takes in the sweep just made. */
	follow(rows: SweepRows, kept: number): void {
		const re = this.#between(rows.latestRe);
		const im = this.#between(rows.latestIm);
		const sums = this.#sums;
		sums.re = kept * sums.re + re;
		sums.im = kept * sums.im + im;
		const slot = this.#taken % CLOUD;
		this.#cloud.re[slot] = re;
		this.#cloud.im[slot] = im;
		this.#taken += 1;
	}

	/** What the marker shows after sweeps of the total `weight`; `exact` of the device at this frequency. */
	reading(
		rows: SweepRows,
		weight: AverageWeight,
		place: MarkerPlace,
		frequency: number,
		exact: Pick<MarkerReading, 'truth' | 'driven'>
	): MarkerReading {
		const expected = { re: this.#between(rows.referenceRe), im: this.#between(rows.referenceIm) };
		const gamma = {
			re: expected.re + this.#sums.re / weight.sum,
			im: expected.im + this.#sums.im / weight.sum
		};
		const size = Math.hypot(gamma.re, gamma.im);
		const scatter = this.#scatter();
		const n = effectiveNumber(weight);
		// Hotelling's factor goes with the readings that told the scatter, the size of the region with those averaged
		const factor = regionFactor(Math.min(this.#taken, CLOUD));
		// where no state of the device was found there is no reading either
		const known = Number.isFinite(factor) && !Number.isNaN(size);
		const average = known ? ellipse(scatter, factor / n) : null;
		return {
			place,
			frequency,
			gamma,
			expected,
			...exact,
			impedance: impedanceFromGamma(gamma),
			returnLossDb: returnLossDb(size),
			swr: swr(size),
			scatter,
			region: average,
			spreadSingle: known ? ellipse(scatter, CHI_SQUARED_95).semiMajor : null,
			spreadAverage: average?.semiMajor ?? null,
			coarse: this.#coarse(rows),
			cloud: this.#readings(expected)
		};
	}

	#coarse(rows: SweepRows): boolean {
		const [a, b] = [this.#left, this.#right];
		const { referenceRe: re, referenceIm: im } = rows;
		const turn = Math.atan2(im[b] * re[a] - re[b] * im[a], re[a] * re[b] + im[a] * im[b]);
		return Math.abs(turn) > COARSE;
	}

	#between(row: ArrayLike<number>): number {
		return row[this.#left] + this.#share * (row[this.#right] - row[this.#left]);
	}

	/** Covariance of the single readings in the cloud; NaN before the second. */
	#scatter(): Covariance {
		const n = Math.min(this.#taken, CLOUD);
		const { re, im } = this.#cloud;
		let [sumRe, sumIm, reRe, imIm, reIm] = [0, 0, 0, 0, 0];
		for (let i = 0; i < n; i++) {
			sumRe += re[i];
			sumIm += im[i];
			reRe += re[i] * re[i];
			imIm += im[i] * im[i];
			reIm += re[i] * im[i];
		}
		const freedom = n > 1 ? n - 1 : NaN;
		return {
			rr: (reRe - (sumRe * sumRe) / n) / freedom,
			ii: (imIm - (sumIm * sumIm) / n) / freedom,
			ri: (reIm - (sumRe * sumIm) / n) / freedom
		};
	}

	/** The cloud in the order it was taken, oldest first. */
	#readings(expected: Complex): ComplexArray {
		const count = Math.min(this.#taken, CLOUD);
		const out = complexArray(count);
		for (let i = 0; i < count; i++) {
			const slot = (this.#taken - count + i) % CLOUD;
			out.re[i] = expected.re + this.#cloud.re[slot];
			out.im[i] = expected.im + this.#cloud.im[slot];
		}
		return out;
	}
}
