import { z } from 'zod';
import type { CommandRecord } from './lesson-bench.ts';
import { command, expression, identifier, line, prose, question, type Command } from './question-schema.ts';

/** The one format there is; a change that an older program would misread raises it. */
export const LESSON_FORMAT = 1;

const show = z.array(z.string().max(40)).max(20);
const answer = z.union(
	[
		z.string(),
		z.number(),
		z.array(z.string()),
		z.strictObject({ at: z.tuple([z.number(), z.number()]) }),
		z.strictObject({ low: expression, high: expression })
	],
	'must be a choice, a quantity, an order, { at: [re, im] } or { low, high }'
);

/** What a learner would do at a step: commands, and answers as `answer: …`. */
const walk = z
	.array(z.union([z.strictObject({ answer }), command], 'must be a command or an answer'))
	.max(40);

const common = {
	id: identifier,
	title: z.string().min(1).max(60),
	/** Replaces the lesson's list of what is visible from this step on. */
	show: show.optional(),
	/** Commands the bench carries out as the step begins; without them it goes on from where the last step ended. */
	start: z.array(command).max(40).default([]),
	hints: z.array(prose).max(6).default([]),
	/** Numbers kept as the step is left, for later texts and conditions: `{{kept.before}}`. */
	keep: z.record(z.string().regex(/^[a-z][A-Za-z0-9]{0,30}$/), expression).default({}),
	next: identifier.optional(),
	walk: walk.default([]),
	/** A note for the teacher, printed beside the step. */
	teacher: prose.optional()
};

const read = z.strictObject({ kind: z.literal('read'), ...common, text: prose });
const predict = z.strictObject({ kind: z.literal('predict'), ...common, text: prose.optional(), question });
const act = z.strictObject({
	kind: z.literal('do'),
	...common,
	text: prose,
	until: expression,
	/** Said when the condition already holds as the step begins, which otherwise is a mistake. */
	'starts true': z.boolean().default(false)
});
const observe = z.strictObject({ kind: z.literal('observe'), ...common, text: prose.optional(), question });
const explain = z.strictObject({
	kind: z.literal('explain'),
	...common,
	text: prose.optional(),
	/** The predict step whose committed answer is explained here. */
	of: identifier.optional(),
	/** What the bench shows now, set beside the ink. */
	observed: expression.optional(),
	question: question.optional()
});
const decide = z.strictObject({ kind: z.literal('decide'), ...common, text: prose.optional(), question });

const step = z.discriminatedUnion('kind', [read, predict, act, observe, explain, decide]);

export const lessonSchema = z.strictObject({
	format: z.literal(LESSON_FORMAT),
	title: z.string().min(1).max(60),
	minutes: z.int().min(1).max(60),
	objective: prose,
	/** One sentence each, under a short name; the first is the one the lesson is there to break. */
	misconceptions: z.record(identifier, line).default({}),
	/** The set-up of the starting bench as in a bench file; without it, the usual bench. */
	bench: z.record(z.string(), z.unknown()).optional(),
	start: z.array(command).max(40).default([]),
	show,
	steps: z.array(step).min(1).max(60),
	'wrong walks': z
		.array(
			z.strictObject({
				misconception: identifier,
				/** What is done differently, by step. */
				follow: z.record(identifier, walk),
				'stops at': identifier
			})
		)
		.max(40)
		.default([]),
	teacher: z
		.strictObject({
			notes: prose.optional(),
			questions: z
				.array(
					z.strictObject({
						ask: prose,
						expect: z
							.array(z.strictObject({ answer: prose, misconception: identifier.optional() }))
							.default([])
					})
				)
				.max(20)
				.default([])
		})
		.optional()
});

export type LessonContent = z.infer<typeof lessonSchema>;
export type Step = z.infer<typeof step>;
export type WalkEntry = z.infer<typeof walk>[number];
export type WrittenAnswer = z.infer<typeof answer>;

/** A lesson as it was read, with the name of its file without the ending. */
export type Lesson = LessonContent & { readonly id: string };

/** The question of a step, if it asks one. */
export const questionOf = (s: Step) => ('question' in s ? s.question : undefined);

export const isAnswer = (entry: WalkEntry): entry is { answer: WrittenAnswer } =>
	typeof entry === 'object' && Object.hasOwn(entry, 'answer');

/** A written command as a record; a bare name has no arguments. */
export function commandRecord(written: Command): CommandRecord {
	if (typeof written === 'string') return { name: written, arguments: {} };
	const [[name, args]] = Object.entries(written);
	return { name, arguments: args };
}

/** The lesson format for editors. */
export const lessonJsonSchema = () => z.toJSONSchema(lessonSchema, { io: 'input', reused: 'ref' });
