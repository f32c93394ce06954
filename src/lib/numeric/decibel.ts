/** Decibels, and levels in watts and dBm. Ratios are of amplitudes (waves, voltages), powers of watts. */

/** Boltzmann constant in J/K, exact (SI, 2019). */
export const BOLTZMANN = 1.380649e-23;
/** Reference temperature of noise figures, 290 K (IEEE Std 161). */
export const STANDARD_TEMPERATURE = 290;

/** 20·log10 of an amplitude ratio; zero gives −Infinity. */
export const dbFromRatio = (ratio: number): number => 20 * Math.log10(ratio);
export const ratioFromDb = (db: number): number => 10 ** (db / 20);

/** 10·log10 of a power ratio; zero gives −Infinity. */
export const dbFromPower = (ratio: number): number => 10 * Math.log10(ratio);
export const powerFromDb = (db: number): number => 10 ** (db / 10);

export const wattsFromDbm = (dbm: number): number => 1e-3 * 10 ** (dbm / 10);
/** Zero watts give −Infinity. */
export const dbmFromWatts = (watts: number): number => 10 * Math.log10(watts / 1e-3);

/** RMS volts of a level across a real resistance, by default 50 Ω: √(W·R). */
export const voltsFromDbm = (dbm: number, resistance = 50): number =>
	Math.sqrt(wattsFromDbm(dbm) * resistance);

/** Available thermal noise power kTB in W; `bandwidth` in Hz, `temperature` in K (Nyquist 1928). */
export const thermalNoise = (bandwidth: number, temperature = STANDARD_TEMPERATURE): number =>
	BOLTZMANN * temperature * bandwidth;
