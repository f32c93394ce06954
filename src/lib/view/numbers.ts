import { magnitude } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';

/**
 * Numbers as people read them: a true minus, a no-break space before the unit, a fixed number of decimals so that
 * figures stand still while they change. What is infinite or undefined is said in words, since the fonts have no sign
 * for it.
 */
export const MINUS = '\u2212';
export const NO_BREAK_SPACE = '\u00a0';
export const TIMES = '\u00d7';

/** A number to `decimals` places; a value that rounds to zero has no minus. */
export function fixed(value: number, decimals: number): string {
	if (Number.isNaN(value)) return 'not defined';
	if (!Number.isFinite(value)) return value > 0 ? 'infinite' : `${MINUS}infinite`;
	const digits = Math.abs(value).toFixed(decimals);
	return value < 0 && Number(digits) !== 0 ? MINUS + digits : digits;
}

/** As `fixed`, with a plus before a value above zero. */
export function signed(value: number, decimals: number): string {
	const text = fixed(value, decimals);
	return value > 0 && Number(text) !== 0 && Number.isFinite(value) ? `+${text}` : text;
}

/** A whole number with its thousands parted by no-break spaces from 10 000 on. */
export function whole(value: number): string {
	const text = fixed(value, 0);
	return text.replace(MINUS, '').length < 5 ? text : text.replace(/\B(?=(\d{3})+$)/g, NO_BREAK_SPACE);
}

export const withUnit = (text: string, unit: string): string => `${text}${NO_BREAK_SPACE}${unit}`;

/** The text of `formatQuantity`, which is for files, as it is shown: '-35 dBm' becomes '−35 dBm' with its space tied. */
export const shown = (written: string): string => written.replace(/-/g, MINUS).replace(/ /g, NO_BREAK_SPACE);

/** A level at a plane, '−30.25 dBm'; −Infinity is 'no signal'. */
export const level = (dbm: number, decimals = 2): string =>
	dbm === -Infinity ? 'no signal' : withUnit(fixed(dbm, decimals), 'dBm');

/** A margin, a loss or a gain, '4.8 dB'. */
export const decibels = (db: number, decimals = 1): string => withUnit(fixed(db, decimals), 'dB');

/** '1.8 %' from 0.018. */
export const percent = (fraction: number, decimals = 1): string =>
	withUnit(fixed(fraction * 100, decimals), '%');

/** '169.525 MHz': always in MHz, so that three rows can be compared. */
export const frequency = (hertz: number): string => withUnit(megahertz(hertz), 'MHz');

/** The figure alone, for a column whose heading carries the unit. */
export const megahertz = (hertz: number): string => fixed(hertz / 1e6, 3);

/** A delay of a port extension or a plane, signed, in picoseconds: '+41 ps'. */
export const picoseconds = (seconds: number): string => {
	const value = seconds * 1e12;
	return withUnit(signed(value, Number.isInteger(Number(value.toFixed(3))) ? 0 : 1), 'ps');
};

/** Beyond this many ohms a figure is the noise's, so only the bound is written. */
const MOST_OHMS = 99_999;

/** The figure of a resistance or of the size of a reactance, in Ω: one decimal, from 1000 on none. */
export function ohms(value: number): string {
	if (Number.isFinite(value) && value > MOST_OHMS) return `over ${whole(100_000)}`;
	if (Number.isFinite(value) && value < -MOST_OHMS) return `below ${whole(-100_000)}`;
	return Math.abs(value) < 999.95 || !Number.isFinite(value) ? fixed(value, 1) : whole(value);
}

/** The reactive part, '+ j77.1' or '− j77.1' (figure alone; unit Ω). */
export function reactance(value: number): string {
	if (!Number.isFinite(value)) return fixed(value, 1);
	return `${value < 0 ? MINUS : '+'}${NO_BREAK_SPACE}j${ohms(Math.abs(value))}`;
}

/** '109.3 − j77.1 Ω'; an open is 'open (infinite)'. */
export function impedance(value: Complex): string {
	if (Number.isNaN(value.re) || Number.isNaN(value.im)) return 'not defined';
	if (!Number.isFinite(value.re) || !Number.isFinite(value.im)) return 'open (infinite)';
	return withUnit(`${ohms(value.re)}${NO_BREAK_SPACE}${reactance(value.im)}`, 'Ω');
}

/** 'Γ' in size and angle, '0.550 at −42.1°'. */
export const sizeAndAngle = (gamma: Complex): string =>
	`${fixed(magnitude(gamma), 3)} at ${fixed((Math.atan2(gamma.im, gamma.re) * 180) / Math.PI, 1)}°`;

/** The figure of a return loss in dB, positive for a passive device; a perfect match is 'over 100'. */
export const returnLoss = (db: number): string => (db > 100 ? 'over 100' : fixed(db, 2));

/** The figure of a standing-wave ratio from |Γ| ('to 1' is its unit). Above |Γ| = 1 it has no meaning: 'none'. */
export function standingWaveRatio(ratio: number, gammaMagnitude: number): string {
	if (gammaMagnitude > 1) return 'none';
	if (gammaMagnitude === 1) return 'infinite';
	return ratio > 1000 ? 'over 1000' : fixed(ratio, 2);
}

/** A size to so many significant figures, without powers of ten: 0.0412 as '0.041'. Below 0.00001 only the bound. */
export function significant(value: number, figures = 2): string {
	if (!Number.isFinite(value)) return fixed(value, 0);
	if (value !== 0 && Math.abs(value) < 1e-5) return 'under 0.00001';
	const rounded = Number(value.toPrecision(figures));
	const places = rounded === 0 ? 0 : Math.max(0, figures - 1 - Math.floor(Math.log10(Math.abs(rounded))));
	return fixed(rounded, Math.min(places, 20));
}
