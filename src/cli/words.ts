import { impedanceFromGamma } from '#lib/network/impedance.ts';
import type { Complex } from '#lib/numeric/complex.ts';

/** Numbers in words for a terminal: plain signs that can be copied into other programs, always with their unit. */

/** In MHz from 1 MHz up; below that in a unit that shows it. */
export function frequencyWords(hertz: number): string {
	if (hertz < 1e3) return `${hertz.toFixed(3)} Hz`;
	return hertz < 1e6 ? `${(hertz / 1e3).toFixed(3)} kHz` : `${(hertz / 1e6).toFixed(3)} MHz`;
}

/** To so many decimals; what rounds to zero has no minus. */
export function fixed(value: number, decimals: number): string {
	if (Number.isNaN(value)) return 'not defined';
	if (Number.isFinite(value)) return value.toFixed(decimals).replace(/^-(0\.?0*)$/, '$1');
	return value > 0 ? 'infinite' : '-infinite';
}

export const withUnit = (value: number, decimals: number, unit: string): string =>
	`${fixed(value, decimals)} ${unit}`;

/** `109.3 - j77.1 Ω` from a reflection coefficient against `z0` in Ω. */
export function impedanceWords(gamma: Complex, z0 = 50): string {
	const { re, im } = impedanceFromGamma(gamma, z0);
	if (Number.isNaN(re) || Number.isNaN(im)) return 'not defined';
	if (!Number.isFinite(re) || !Number.isFinite(im)) return 'open (infinite)';
	const reactance = fixed(im, 1);
	return `${fixed(re, 1)} ${reactance.startsWith('-') ? '- j' : '+ j'}${reactance.replace('-', '')} Ω`;
}

/** `SWR 2.31`; above |Γ| = 1, where more returns than arrives, there is none. */
export const swrWords = (ratio: number): string =>
	Number.isFinite(ratio) ? `SWR ${ratio.toFixed(2)}` : 'no SWR';

export const OUTSIDE_BAND =
	"Part of the sweep lies outside the device's data; the value at the edge of the data is used there.";
