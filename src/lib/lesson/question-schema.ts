import { z } from 'zod';

z.config({ jitless: true });

export const identifier = z
	.string()
	.max(40)
	.regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/, 'must be lower-case letters and digits joined by hyphens');
export const prose = z.string().min(1).max(1500);
export const line = z.string().min(1).max(400);
/** An expression, or a plain number. */
export const expression = z.union([z.string(), z.number()], 'must be an expression or a number');

const argument: z.ZodType<unknown> = z.union([
	z.string(),
	z.number(),
	z.boolean(),
	z.array(z.unknown()),
	z.record(z.string(), z.unknown()),
	z.null()
]);

/** `set level: { level: -20 dBm }`, or the bare name of a command without arguments. */
export const command = z.union(
	[
		z.string().max(60),
		z
			.record(z.string().max(60), z.record(z.string(), argument))
			.refine((r) => Object.keys(r).length === 1, 'must have one key')
	],
	'must be the name of a command, or one name with a map of arguments'
);

/** What happens on one answer. */
const consequence = {
	right: z.boolean().optional(),
	misconception: identifier.optional(),
	explain: prose,
	/** The step this answer leads to; `end` finishes the lesson. */
	next: identifier.optional(),
	/** Commands the bench carries out when this answer is committed. */
	commands: z.array(command).max(20).optional()
};

const otherwise = z.strictObject(consequence);

const choice = z.strictObject({
	kind: z.literal('choice'),
	ask: prose,
	answers: z
		.array(z.strictObject({ is: identifier, text: line, ...consequence }))
		.min(2)
		.max(12)
});

const number = z.strictObject({
	kind: z.literal('number'),
	ask: prose,
	unit: z.string().max(12),
	/** `1 dB` or `5 %`. */
	tolerance: expression,
	/** Draws the answer in the corridor: as a level there, or as how far the level there will fall. */
	mark: z
		.strictObject({ at: z.enum(['receiver', 'device']), as: z.enum(['level', 'fall']).default('level') })
		.optional(),
	answers: z
		.array(
			z
				.strictObject({
					is: expression.optional(),
					between: z.tuple([expression, expression]).optional(),
					...consequence
				})
				.refine(
					(a) => (a.is === undefined) !== (a.between === undefined),
					'must have either "is" or "between"'
				)
		)
		.min(1)
		.max(12),
	otherwise
});

/** All that are given must hold: a ring and a half make half a ring. */
const region = z
	.strictObject({
		circle: z
			.strictObject({ centre: z.tuple([expression, expression]), radius: z.number().positive().max(2) })
			.optional(),
		ring: z.tuple([z.number().min(0), z.number().positive().max(2)]).optional(),
		half: z.enum(['upper', 'lower', 'left', 'right']).optional()
	})
	.refine((r) => r.circle ?? r.ring ?? r.half, 'must have a circle, a ring or a half');

const point = z.strictObject({
	kind: z.literal('point'),
	ask: prose,
	picture: z.literal('smith chart'),
	answers: z
		.array(z.strictObject({ is: region, ...consequence }))
		.min(1)
		.max(12),
	otherwise
});

const order = z.strictObject({
	kind: z.literal('order'),
	ask: prose,
	items: z
		.array(z.strictObject({ id: identifier, text: line }))
		.min(2)
		.max(10),
	answers: z
		.array(z.strictObject({ is: z.array(identifier).min(2).max(10), ...consequence }))
		.min(1)
		.max(12),
	otherwise
});

const interval = z.strictObject({
	kind: z.literal('interval'),
	ask: prose,
	unit: z.string().max(12),
	/** What the interval must hold, usually an observable of the truth. */
	holds: expression,
	/** The widest interval that still says something. */
	widest: expression,
	answers: z
		.array(z.strictObject({ is: z.enum(['holds', 'misses', 'too wide']), ...consequence }))
		.length(3, 'must say what follows when it holds, misses and is too wide')
});

export const question = z.discriminatedUnion('kind', [choice, number, point, order, interval]);

export type Question = z.infer<typeof question>;
export type QuestionOf<Kind extends Question['kind']> = Extract<Question, { kind: Kind }>;
export type Region = z.infer<typeof region>;
export type Consequence = z.infer<typeof otherwise>;
export type Command = z.infer<typeof command>;
