import type { NetworkData } from '#lib/network/network-data.ts';
import { dbFromRatio } from '#lib/numeric/decibel.ts';
import { faults } from './faults.ts';
import { POWER_OF_TEN } from './touchstone-options.ts';
import type { FrequencyUnit, PairFormat } from './touchstone-options.ts';

export interface TouchstoneWriting {
	readonly format: PairFormat;
	readonly unit: FrequencyUnit;
	/** Put before the option line; a comment with line breaks becomes several lines. */
	readonly comments: readonly string[];
}

/** Written for an exact zero, which has no decibels: no receiver and no rounding comes near 10^−50. */
const ZERO_DB = -1000;

/** File order: 21 before 12 (Touchstone specification 1.1, "1 and 2 port networks"). */
const ORDER = { 1: [0], 2: [0, 2, 1, 3] } as const;
const ENTRIES = { 1: ['11'], 2: ['11', '21', '12', '22'] } as const;
const COLUMNS = { MA: ['mag', 'ang'], DB: ['dB', 'ang'], RI: ['Re', 'Im'] } as const;

/** The decimal digits of `value` with the point moved `places` to the left: no rounding beyond that of `value`. */
function pointMoved(value: number, places: number): string {
	if (value === 0) return '0';
	const [digits, exponent] = value.toExponential().split('e');
	const power = Number(exponent) - places;
	const figures = digits.replace('.', '');
	if (power < -9 || power > 20) return `${digits}e${power}`;
	if (power < 0) return `0.${'0'.repeat(-power - 1)}${figures}`;
	const whole = figures.slice(0, power + 1).padEnd(power + 1, '0');
	const rest = figures.slice(power + 1);
	return rest === '' ? whole : `${whole}.${rest}`;
}

function pairOf(re: number, im: number, format: PairFormat): string {
	if (format === 'RI') return `${re} ${im}`;
	const size = Math.hypot(re, im);
	const angle = (Math.atan2(im, re) * 180) / Math.PI;
	return `${format === 'MA' ? size : size === 0 ? ZERO_DB : dbFromRatio(size)} ${angle}`;
}

/** A Touchstone file may hold nothing but ASCII. */
const plain = (comment: string): string =>
	comment
		.replace(/[ΩΩ]/g, 'ohm')
		.replace(/[µμ]/g, 'u')
		.replace(/−/g, '-')
		.normalize('NFKD')
		.replace(/\p{M}/gu, '')
		.replace(/[^\t\x20-\x7e]/g, '?');

/**
 * The text of a Touchstone version 1 file: S parameters at 50 Ω, LF line ends, ASCII only.
 * Numbers are written with the fewest digits that give the same double again, so RI is read back exactly, MA and DB
 * within a few units of the last of sixteen digits (DB: a zero is written as −1000 dB).
 * Throws a Fault for data that is not finite.
 */
export function writeTouchstone(data: NetworkData, { format, unit, comments }: TouchstoneWriting): string {
	const { ports, frequencies, s } = data;
	const stride = 2 * ports * ports;
	const heads = ENTRIES[ports].flatMap((entry) => COLUMNS[format].map((column) => `${column}S${entry}`));
	const lines = comments
		.flatMap((comment) => comment.split(/\r\n|\r|\n/))
		.map((comment) => `! ${plain(comment)}`);
	lines.push(`# ${unit} S ${format} R 50`, `! ${['frequency', ...heads].join(' ')}`);
	frequencies.forEach((frequency, row) => {
		const values = s.slice(row * stride, (row + 1) * stride);
		const bad = [frequency, ...values].find((value) => !Number.isFinite(value));
		if (bad !== undefined) throw faults['touchstone-write']({ row: row + 1, found: bad });
		const pairs = ORDER[ports].map((i) => pairOf(values[2 * i], values[2 * i + 1], format));
		lines.push([pointMoved(frequency, POWER_OF_TEN[unit]), ...pairs].join(' '));
	});
	return `${lines.join('\n')}\n`;
}
