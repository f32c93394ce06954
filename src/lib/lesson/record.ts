import { z } from 'zod';
import { faults } from './faults.ts';

z.config({ jitless: true });

/** The version of a saved lesson. */
export const RECORD_VERSION = 1;

const answer = z.discriminatedUnion('kind', [
	z.strictObject({ kind: z.literal('choice'), choice: z.string() }),
	z.strictObject({ kind: z.literal('number'), value: z.number() }),
	z.strictObject({ kind: z.literal('point'), re: z.number(), im: z.number() }),
	z.strictObject({ kind: z.literal('order'), order: z.array(z.string()) }),
	z.strictObject({ kind: z.literal('interval'), low: z.number(), high: z.number() })
]);

const grade = z.strictObject({
	right: z.boolean(),
	met: z.union([z.int().min(0), z.literal('otherwise')]),
	misconception: z.string().optional()
});

/** JSON has no infinities; the return loss of nothing at all is kept as null, no value. */
const kept = z.strictObject({
	value: z.union([z.number(), z.boolean(), z.string(), z.null()]),
	kind: z.string()
});

const entry = z.discriminatedUnion('type', [
	z.strictObject({ type: z.literal('entered'), step: z.string() }),
	z.strictObject({ type: z.literal('committed'), step: z.string(), answer, grade }),
	z.strictObject({ type: z.literal('hint'), step: z.string(), hint: z.int().min(0) }),
	z.strictObject({ type: z.literal('shown'), step: z.string() }),
	z.strictObject({ type: z.literal('met'), step: z.string() }),
	z.strictObject({ type: z.literal('again'), step: z.string() }),
	z.strictObject({ type: z.literal('left'), step: z.string(), kept: z.record(z.string(), kept) }),
	z.strictObject({ type: z.literal('finished') })
]);

/** One thing the learner did, or that was shown. Entries are only ever added. */
export type RecordEntry = z.infer<typeof entry>;
export type LearnerRecord = readonly RecordEntry[];

const saved = z.strictObject({
	version: z.literal(RECORD_VERSION),
	lesson: z.string(),
	entries: z.array(entry).max(100_000),
	/** The bench as the present step began. */
	beginning: z.unknown(),
	/** The bench as it was last. */
	bench: z.unknown()
});

export type SavedLesson = z.infer<typeof saved>;

/** @throws Fault when the data is no saved lesson, or one of another version; the data is left as it was. */
export function readSavedLesson(data: unknown): SavedLesson {
	const place = 'saved lesson';
	const version: unknown =
		typeof data === 'object' && data !== null ? (data as { version?: unknown }).version : undefined;
	if (typeof version === 'number' && version !== RECORD_VERSION)
		throw faults['record-version']({ place, found: version, known: RECORD_VERSION });
	const result = saved.safeParse(data);
	if (result.success) return result.data;
	const [issue] = result.error.issues;
	throw faults['record-form']({ place, found: `${issue.path.join('.') || 'the whole'}: ${issue.message}` });
}
