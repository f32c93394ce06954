import { z } from 'zod';
import { formatQuantity, parseQuantity } from '#lib/bench/quantity.ts';
import type { QuantityKind } from '#lib/bench/quantity.ts';
import { quantity, wholeNumber } from '#lib/bench/schema-parts.ts';
import { Fault } from '#lib/fault.ts';
import { shown } from '#lib/view/numbers.ts';

/** What a field may hold, in base units (decibels for logarithmic settings). */
export interface FieldRange {
	readonly from: number;
	readonly to: number;
	/** What is said of a value under or over the range where a limit follows from another setting. */
	readonly under?: string | undefined;
	readonly over?: string | undefined;
}

export type FieldReading = { readonly value: number } | { readonly fault: string };

/** A value as a field shows it: the figures, and the unit beside them. */
export interface FieldText {
	readonly figures: string;
	readonly unit: string;
}

export function fieldText(value: number, kind: QuantityKind): FieldText {
	const written = formatQuantity(value, kind);
	const at = written.indexOf(' ');
	return at < 0
		? { figures: shown(written), unit: '' }
		: { figures: shown(written.slice(0, at)), unit: written.slice(at + 1) };
}

/** The same in a unit that is given, free of the last binary digits. */
export function fieldTextIn(value: number, kind: QuantityKind, unit: string): FieldText {
	const figures = Number((value / parseQuantity(`1 ${unit}`, kind)).toPrecision(12));
	return { figures: shown(String(figures)), unit };
}

const BARE = /^\s*[+\-\u2212]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?\s*$/;

/** Whether what was typed has its own unit, or is no number: the unit beside the field is not meant then. */
export const bringsUnit = (typed: string): boolean => typed.trim() !== '' && !BARE.test(typed);

/**
 * Reads what was typed; a bare number takes the unit that stands beside the field. Refused outside the range. What is
 * no number is answered with `example`, a value as the field could show it.
 */
export function readField(
	typed: string,
	unit: string,
	kind: QuantityKind,
	range: FieldRange,
	example: number
): FieldReading {
	const text = unit !== '' && BARE.test(typed) ? `${typed.trim()} ${unit}` : typed;
	const read = z.safeDecode(quantity(kind, range), text);
	if (read.success) return { value: read.data };
	try {
		const value = parseQuantity(text, kind);
		const limit = value < range.from ? range.under : range.over;
		return { fault: limit ?? shownWords(read.error) };
	} catch (fault) {
		if (!(fault instanceof Fault) || fault.code !== 'quantity-number')
			return { fault: shownWords(read.error) };
		const finding = typed.trim() === '' ? 'Nothing is written here.' : fault.finding;
		return { fault: `${finding} Write it like ${shown(formatQuantity(example, kind))}.` };
	}
}

/** As `readField` for settings that count something, such as averages. */
export function readWhole(typed: string, what: string, range: FieldRange): FieldReading {
	const value = BARE.test(typed) ? Number(typed.replace('\u2212', '-')) : Number.NaN;
	const read = z.safeDecode(wholeNumber(what, range), value);
	return read.success ? { value: read.data } : { fault: shownWords(read.error) };
}

const shownWords = (error: z.ZodError): string => error.issues[0].message.replace(/-(?=\d)/g, '\u2212');

/** How far a key moves a value: one step, ten with Shift, one tick with Page Up or Down; 0 for any other key. */
export function keySteps(key: string, shift: boolean, step: number, tick: number): number {
	if (key === 'ArrowUp') return shift ? 10 * step : step;
	if (key === 'ArrowDown') return shift ? -10 * step : -step;
	if (key === 'PageUp') return tick;
	if (key === 'PageDown') return -tick;
	return 0;
}

/** The value after a move, held in its range and free of the last binary digits (0.1 + 0.2 gives 0.3). */
export const moved = (value: number, by: number, range: FieldRange): number =>
	Math.min(range.to, Math.max(range.from, Number((value + by).toPrecision(12))));
