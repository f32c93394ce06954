import { baseUnit, parseQuantity, quantityKinds, type QuantityKind } from '#lib/bench/quantity.ts';

/** The kind of a value in an expression: what it may be compared with and in which unit it is shown. */
export type ValueKind = QuantityKind | 'boolean' | 'text';

const known = new Map<string, QuantityKind | undefined>();

/** The kind a unit belongs to (`MHz` to frequency), or undefined; `''` is a plain number. */
export function kindOfUnit(symbol: string): QuantityKind | undefined {
	if (symbol === '') return 'number';
	if (symbol.length > 12) return undefined;
	if (!known.has(symbol))
		known.set(
			symbol,
			quantityKinds.find((kind) => reads(`1 ${symbol}`, kind))
		);
	return known.get(symbol);
}

function reads(text: string, kind: QuantityKind): boolean {
	try {
		parseQuantity(text, kind);
		return true;
	} catch {
		return false;
	}
}

const NO_BREAK_SPACE = '\u00a0';
const withMinus = (digits: string): string => digits.replace(/-/g, '\u2212');

/** At most `decimals` decimals; a value with fewer digits, such as one that was set, is written as it was set. */
function rounded(value: number, decimals: number): string {
	const fixed = value.toFixed(decimals);
	const short = String(value);
	const digits = short.length <= fixed.length && !short.includes('e') ? short : fixed;
	return withMinus(Number(digits) === 0 ? digits.replace('-', '') : digits);
}

const significant = (value: number): string => withMinus(String(Number(value.toPrecision(4))));

const PREFIXES: readonly (readonly [number, string])[] = [
	[1e9, 'G'],
	[1e6, 'M'],
	[1e3, 'k'],
	[1, ''],
	[1e-3, 'm'],
	[1e-6, 'µ'],
	[1e-9, 'n'],
	[1e-12, 'p'],
	[1e-15, 'f']
];

function prefixed(value: number, unit: string): string {
	const size = Math.abs(value) * (1 + 1e-12);
	const [factor, prefix] = PREFIXES.find(([f]) => size >= f) ?? [1, ''];
	return `${significant(value / factor)}${NO_BREAK_SPACE}${prefix}${unit}`;
}

/**
 * A value as a reader sees it: true minus, no-break space, the decimals usual for its kind.
 * Infinite values are written ∞, a missing one "no value".
 */
export function showValue(value: number | boolean | string, kind: ValueKind): string {
	if (typeof value === 'string') return value;
	if (typeof value === 'boolean') return value ? 'yes' : 'no';
	if (Number.isNaN(value)) return 'no value';
	if (!Number.isFinite(value)) return `${value < 0 ? '\u2212' : ''}∞${unitAfter(kind)}`;
	switch (kind) {
		case 'level':
		case 'attenuation':
		case 'noise density':
			return rounded(value, 2) + unitAfter(kind);
		case 'frequency':
			return Math.abs(value) < 1e6
				? prefixed(value, 'Hz')
				: `${(value / 1e6).toFixed(3)}${NO_BREAK_SPACE}MHz`;
		case 'resistance':
			return Math.abs(value) < 1e4 ? rounded(value, 1) + unitAfter(kind) : prefixed(value, 'Ω');
		case 'angle':
			return `${rounded((value * 180) / Math.PI, 1)}°`;
		case 'fraction':
			return `${significant(value * 100)}${NO_BREAK_SPACE}%`;
		case 'number':
		case 'boolean':
		case 'text':
			return significant(value);
		case 'loss per length':
			return significant(value) + unitAfter(kind);
		default:
			return prefixed(value, baseUnit(kind));
	}
}

function unitAfter(kind: ValueKind): string {
	const unit = kind === 'boolean' || kind === 'text' ? '' : baseUnit(kind);
	return unit === '' ? '' : `${NO_BREAK_SPACE}${unit}`;
}
