import { z } from 'zod';
import { formatQuantity } from '#lib/bench/quantity.ts';
import type { QuantityKind } from '#lib/bench/quantity.ts';
import { quantity, wholeNumber } from '#lib/bench/schema-parts.ts';
import { shown } from '#lib/view/numbers.ts';

/** What a field may hold, in base units (decibels for logarithmic settings). */
export interface FieldRange {
	readonly from: number;
	readonly to: number;
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

const BARE = /^\s*[+\-\u2212]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?\s*$/;

/** Reads what was typed; a bare number takes the unit that stands beside the field. Refused outside the range. */
export function readField(typed: string, unit: string, kind: QuantityKind, range: FieldRange): FieldReading {
	const text = unit !== '' && BARE.test(typed) ? `${typed.trim()} ${unit}` : typed;
	const read = z.safeDecode(quantity(kind, range), text);
	return read.success ? { value: read.data } : { fault: shownWords(read.error) };
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
