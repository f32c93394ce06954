import { dbFromPower, powerFromDb, ratioFromDb } from '#lib/numeric/decibel.ts';

/**
 * Receiver noise at the test port in dBm: `floor` in dBm/Hz, `bandwidth` the equivalent noise bandwidth in Hz, `averages`
 * the effective number of averaged readings (≥ 1). White noise only.
 */
export const floorLevelDbm = (floor: number, bandwidth: number, averages = 1): number =>
	floor + dbFromPower(bandwidth) - dbFromPower(averages);

/**
 * Standard deviation of one quadrature of a single raw reading from the receiver floor: √(N/P/2), with N the noise in
 * the bandwidth and P the actual level of the source in dBm. Both quadratures together are √2 larger.
 */
export const floorDeviation = (floor: number, bandwidth: number, levelDbm: number): number =>
	Math.sqrt(powerFromDb(floorLevelDbm(floor, bandwidth) - levelDbm) / 2);

/** Multiplicative noise as data sheets state it: standard deviations in dB and rad in a reference bandwidth in Hz. */
export interface TraceNoise {
	readonly amplitude: number;
	readonly phase: number;
	readonly bandwidth: number;
}

/**
 * Trace noise of a single reading in `bandwidth` Hz, as standard deviations of the relative amplitude and of the phase
 * in rad. It is taken to be white, so that both grow with the square root of the bandwidth, and small: an amplitude of
 * x dB counts as 10^(x/20) − 1.
 */
export function traceDeviation(
	traceNoise: TraceNoise,
	bandwidth: number
): { readonly amplitude: number; readonly phase: number } {
	const growth = Math.sqrt(bandwidth / traceNoise.bandwidth);
	return {
		amplitude: (ratioFromDb(traceNoise.amplitude) - 1) * growth,
		phase: traceNoise.phase * growth
	};
}
