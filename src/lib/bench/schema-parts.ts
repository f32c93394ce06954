import { z } from 'zod';
import { Fault } from '#lib/fault.ts';
import { formatQuantity, parseQuantity } from './quantity.ts';
import type { QuantityKind } from './quantity.ts';

// No code is ever made from text: the content security policy forbids it.
z.config({ jitless: true });

/** What a value may be, for the error message as well as for the check. */
export interface Range {
	readonly from: number;
	readonly to: number;
}

/**
 * A number that is written with its unit: text such as `-20 dBm` outside, a plain number inside.
 * Refused outside `from` … `to` (inclusive, in base units).
 */
export function quantity(kind: QuantityKind, range: Range) {
	const allowed = `${article(kind)} ${kind} from ${formatQuantity(range.from, kind)} to ${formatQuantity(range.to, kind)}`;
	const inside = z
		.number({ error: `Give ${allowed}.` })
		.refine((value) => value >= range.from && value <= range.to, { error: `Give ${allowed}.` });
	return z
		.codec(z.string({ error: `Give ${allowed}, written with its unit.` }), inside, {
			decode: (text, context) => {
				try {
					return parseQuantity(text, kind);
				} catch (fault) {
					if (!(fault instanceof Fault)) throw fault;
					context.issues.push({ code: 'custom', input: text, message: `${fault.finding} ${fault.remedy}` });
					return z.NEVER;
				}
			},
			encode: (value) => formatQuantity(value, kind)
		})
		.meta({ description: `Written with its unit: ${allowed}.` });
}

/** A whole number from `from` to `to`. */
export const wholeNumber = (what: string, range: Range) =>
	z
		.number({ error: `Give ${what}: a whole number from ${range.from} to ${range.to}.` })
		.refine((value) => Number.isInteger(value) && value >= range.from && value <= range.to, {
			error: `Give ${what}: a whole number from ${range.from} to ${range.to}.`
		});

/** A short name shown on the screen. */
export const label = z
	.string({ error: 'Give a name.' })
	.min(1, { error: 'Give a name of at least one character.' })
	.max(80, { error: 'Give a name of at most 80 characters.' });

/** The stable name of a part: lower case letters, digits and dashes. */
export const identifier = z
	.string({ error: 'Give a short name such as pad-1.' })
	.regex(/^[a-z][a-z0-9-]{0,39}$/, { error: 'Give lower case letters, digits and dashes, such as pad-1.' });

/** A number without a unit from `from` to `to`. */
export const plainNumber = (what: string, range: Range) =>
	z
		.number({ error: `Give ${what}: a number from ${range.from} to ${range.to}.` })
		.refine((value) => value >= range.from && value <= range.to, {
			error: `Give ${what}: a number from ${range.from} to ${range.to}.`
		});

const article = (noun: string): string => (/^[aeiou]/.test(noun) ? 'an' : 'a');
