import { z } from 'zod';
import { Fault } from '#lib/fault.ts';
import { parseQuantity } from './quantity.ts';
import type { QuantityKind } from './quantity.ts';

// No code is ever made from text: the content security policy forbids it.
z.config({ jitless: true });

/** What elements and models of a netlist file are made of. Ranges are the business of `checkNetlist`. */

const NAME = /^\p{L}[\p{L}\p{N} _.+-]{0,39}$/u;

/** Names of elements, models, ports, probes, switches and positions: they begin with a letter, so none is taken for a number. */
export const isName = (text: string): boolean => NAME.test(text);
export const NAME_WORDS =
	'Begin the name with a letter, and give at most 40 letters, digits, spaces or signs of _ . + -';

/** The name of a node; `ground` and `0` are ground. */
export const node = z.union(
	[
		z.string().regex(/^[\p{L}\p{N}][\p{L}\p{N} _.+-]{0,39}$/u),
		z.number().int().nonnegative().max(1e6).transform(String)
	],
	{ error: 'Give the name of a node, of letters and digits; ground is the node "ground".' }
);

export const name = z.string({ error: 'Give a name.' }).regex(NAME, { error: `${NAME_WORDS}.` });

/** Positions of a switch. */
export const positions = z
	.array(name, { error: 'Give a list of positions, such as [on, off].' })
	.min(1, { error: 'Give at least one position, such as [on].' });

/** Text as a number, with what is wrong with it as an issue. */
const parsed = (parse: (text: string) => number, wanted: string) =>
	z.string({ error: wanted }).transform((text, context): number => {
		try {
			return parse(text);
		} catch (fault) {
			if (!(fault instanceof Fault)) throw fault;
			context.addIssue({ code: 'custom', input: text, message: `${fault.finding} ${fault.remedy}` });
			return z.NEVER;
		}
	});

/** A quantity with its unit, in the base unit. */
export const measure = (kind: QuantityKind) =>
	parsed((text) => parseQuantity(text, kind), `Give a ${kind}, written with its unit.`);

export const plain = (what: string) => z.number({ error: `Give ${what}: a number without a unit.` });

export interface Quality {
	readonly q: number;
	readonly frequency: number;
}

/** `70 at 169.5 MHz`: the quality factor that the loss of a coil or capacitor gives it at a frequency. */
export const quality = z
	.string({ error: 'Give the Q and where it holds, such as 70 at 169.5 MHz.' })
	.transform((text, context): Quality => {
		const [q, frequency, ...more] = text.split(' at ').map((part) => part.trim());
		try {
			const value = { q: parseQuantity(q, 'number'), frequency: parseQuantity(frequency ?? '', 'frequency') };
			if (more.length === 0 && value.q > 0 && value.frequency > 0) return value;
		} catch (fault) {
			if (!(fault instanceof Fault)) throw fault;
		}
		context.addIssue({
			code: 'custom',
			input: text,
			message: 'Give the Q and where it holds, both above zero, such as 70 at 169.5 MHz.'
		});
		return z.NEVER;
	});
