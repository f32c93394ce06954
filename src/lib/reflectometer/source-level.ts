import { normalPair, streamOf } from '#lib/numeric/random.ts';

/**
 * The level that is set is not the level that goes out. Flatness is a smooth ripple over the band of the source, a short
 * cosine series in the logarithm of the frequency: our choice, as is the whole of this law.
 */
export interface Flatness {
	/** Ends of the band the series is spread over, Hz, 0 < lowest < highest; beyond them the end is held. */
	readonly lowest: number;
	readonly highest: number;
	/** Coefficients in dB: element k has k + 1 half waves over the band. None: flat. */
	readonly ripplesDb: readonly number[];
}

export interface SourceLevel {
	/** Only whole multiples of this can be set, dB; 0 for any level. */
	readonly stepDb: number;
	/** Actual less set level, dB, before the ripple. */
	readonly errorDb: number;
	readonly flatness: Flatness;
	/** Levels between which the levelling can hold the output, dBm. */
	readonly levelling: { readonly lowest: number; readonly highest: number };
	/** The fault of a setting that does nothing: the level that stays whatever is set, dBm. Null: the setting works. */
	readonly stuckDbm: number | null;
}

/** The multiple of `stepDb` nearest to `levelDbm`, the higher one of two equally near. */
export const steppedLevel = (levelDbm: number, stepDb: number): number =>
	stepDb > 0 ? stepDb * Math.floor(levelDbm / stepDb + 0.5) : levelDbm;

/** Ripple at `frequency` Hz: Σ c_k·cos(kπu) dB, with u from 0 to 1 over the band. */
export function rippleDb({ lowest, highest, ripplesDb }: Flatness, frequency: number): number {
	const held = Math.min(Math.max(frequency, lowest), highest);
	const place = Math.log(held / lowest) / Math.log(highest / lowest);
	return ripplesDb.reduce((sum, ripple, k) => sum + ripple * Math.cos((k + 1) * Math.PI * place), 0);
}

/**
 * Coefficients of a ripple drawn for one source: normal, falling as 1/k, and such that the mean square over the band and
 * over many sources is `deviationDb`². They depend on seed (0 … 2³² − 1) and name alone, and element k not on `count`
 * except through its size.
 */
export function drawnRipples(seed: number, name: string, deviationDb: number, count: number): number[] {
	const stream = streamOf(name);
	// a cosine has the mean square 1/2
	const weights = Array.from({ length: count }, (_, k) => 1 / (k + 1));
	const size = deviationDb * Math.sqrt(2 / weights.reduce((sum, weight) => sum + weight * weight, 0));
	return weights.map((weight, k) => size * weight * normalPair(seed, stream, 0, k)[0]);
}

/** What the source would send at `frequency` Hz if it could hold any level, dBm. */
function wantedLevel(setDbm: number, source: SourceLevel, frequency: number): number {
	const middle = source.stuckDbm ?? steppedLevel(setDbm, source.stepDb) + source.errorDb;
	return middle + rippleDb(source.flatness, frequency);
}

/** The level of the fundamental that goes out at `frequency` Hz when `setDbm` is set, dBm. */
export function actualLevel(setDbm: number, source: SourceLevel, frequency: number): number {
	const { lowest, highest } = source.levelling;
	return Math.min(Math.max(wantedLevel(setDbm, source, frequency), lowest), highest);
}

/** Whether the levelling holds the output there; if not, the level is that of the limit it stands at. */
export const isLevelled = (setDbm: number, source: SourceLevel, frequency: number): boolean =>
	actualLevel(setDbm, source, frequency) === wantedLevel(setDbm, source, frequency);
