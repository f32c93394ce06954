import { isNode, isScalar, LineCounter, parseDocument, visit, type Document, type YAMLError } from 'yaml';
import type { z } from 'zod';
import type { Fault } from '#lib/fault.ts';
import { expressionFault } from './conditions.ts';
import { faults } from './faults.ts';
import { expressionsOf, type Path } from './parts.ts';
import { LESSON_FORMAT, lessonSchema, type Lesson } from './schema.ts';

export const LONGEST_LESSON = 100_000;
const MOST_FINDINGS = 20;

/** A lesson with the way back to the lines of its file. */
export interface LessonScript {
	readonly lesson: Lesson;
	/** Names the place of a part: file, line, column and path. */
	place(path: Path): string;
}

/** Everything found wrong in one file; the message lists all of it. */
export class LessonFaults extends Error {
	readonly faults: readonly Fault[];

	constructor(found: readonly Fault[]) {
		super(found.map((fault) => fault.message).join('\n'));
		this.name = 'LessonFaults';
		this.faults = found;
	}
}

/**
 * Reads a lesson script: plain YAML (no anchors, tags or double keys, at most 100 000 characters), the format's version,
 * the schema, and whether every expression can be read. What the words in it mean is the checker's business.
 * @throws LessonFaults naming file, line and column of everything found.
 */
export function readLessonScript(text: string, fileName: string): LessonScript {
	if (text.length > LONGEST_LESSON)
		throw new LessonFaults([
			faults['lesson-size']({ place: fileName, found: text.length, limit: LONGEST_LESSON })
		]);
	try {
		return readPlain(text, fileName);
	} catch (error) {
		if (error instanceof RangeError) throw new LessonFaults([faults['lesson-depth']({ place: fileName })]);
		throw error;
	}
}

function readPlain(text: string, fileName: string): LessonScript {
	const lines = new LineCounter();
	const document = parseDocument(text, {
		lineCounter: lines,
		uniqueKeys: true,
		strict: true,
		version: '1.2',
		schema: 'core',
		logLevel: 'error',
		prettyErrors: false
	});
	if (document.errors.some((error) => /call stack/i.test(error.message)))
		throw new LessonFaults([faults['lesson-depth']({ place: fileName })]);
	const at = (offset: number) => {
		const { line, col } = lines.linePos(offset);
		return `${fileName}, line ${line}, column ${col}`;
	};
	refuse(yamlFaults(document, at));
	const place = (path: Path) => `${at(offsetOf(document, path))}, ${writePath(path)}`;
	const data: unknown = document.toJS({ maxAliasCount: 0 });
	const wrongFormat = formatFault(data, place);
	if (wrongFormat) throw new LessonFaults([wrongFormat]);
	const result = lessonSchema.safeParse(data);
	if (!result.success) refuse(result.error.issues.map((issue) => schemaFault(issue, place)));
	const lesson: Lesson = {
		...(result.data as Omit<Lesson, 'id'>),
		id: fileName.replace(/^.*\//, '').replace(/\.[^.]*$/, '')
	};
	refuse(expressionsOf(lesson).flatMap(({ source, path }) => expressionFault(source, place(path)) ?? []));
	return { lesson, place };
}

/** The lesson alone, for those who only run it. */
export const readLesson = (text: string, fileName: string): Lesson => readLessonScript(text, fileName).lesson;

function refuse(found: readonly Fault[]): void {
	if (found.length > 0) throw new LessonFaults(found.slice(0, MOST_FINDINGS));
}

function yamlFaults(document: Document.Parsed, at: (offset: number) => string): Fault[] {
	const found = [...document.errors, ...document.warnings].map((error) =>
		faults['lesson-yaml']({ place: at(error.pos[0]), found: yamlWords(error) })
	);
	const met = new Set<string>();
	const extra = (node: { readonly range?: readonly number[] | null }, what: string) => {
		if (!met.has(what))
			found.push(faults['lesson-yaml-extra']({ place: at(node.range?.[0] ?? 0), found: what }));
		met.add(what);
	};
	visit(document, {
		Alias: (_, node) => extra(node, 'an alias'),
		Node: (_, node) => {
			if ('anchor' in node && node.anchor !== undefined) extra(node, 'an anchor');
			if (node.tag !== undefined) extra(node, 'a tag');
		},
		Pair: (_, { key }) => {
			if (!isScalar(key) || !FORBIDDEN_KEYS.has(String(key.value))) return;
			found.push(faults['lesson-key']({ place: at(key.range?.[0] ?? 0), found: String(key.value) }));
		}
	});
	return found;
}

const FORBIDDEN_KEYS = new Set(['__proto__', 'constructor', 'prototype']);

function yamlWords(error: YAMLError): string {
	if (error.code === 'MULTIPLE_DOCS') return 'there is more than one document in the file';
	return error.message.split('\n')[0].replace(/[.:]$/, '');
}

function formatFault(data: unknown, place: (path: Path) => string): Fault | undefined {
	const format: unknown =
		typeof data === 'object' && data !== null ? (data as { format?: unknown }).format : undefined;
	const blanks = { place: place(['format']), found: String(format).slice(0, 20), known: LESSON_FORMAT };
	if (typeof format !== 'number') return faults['lesson-format-missing'](blanks);
	if (format > LESSON_FORMAT) return faults['lesson-format-newer'](blanks);
	return format < LESSON_FORMAT ? faults['lesson-format-older'](blanks) : undefined;
}

/** Where the value at a path stands, or the nearest part around it that exists. */
function offsetOf(document: Document.Parsed, path: Path): number {
	for (let length = path.length; length > 0; length--) {
		const node = document.getIn(path.slice(0, length), true);
		if (isNode(node) && node.range) return node.range[0];
	}
	return document.contents?.range?.[0] ?? 0;
}

/** `steps[2].question.answers[0].is`, counted from 1 as a reader does. */
function writePath(path: Path): string {
	if (path.length === 0) return 'the whole file';
	return path
		.map((key, i) => (typeof key === 'number' ? `[${key + 1}]` : `${i === 0 ? '' : '.'}${key}`))
		.join('');
}

function schemaFault(issue: z.core.$ZodIssue, place: (path: Path) => string): Fault {
	const path = issue.path.filter((key) => typeof key !== 'symbol');
	if (issue.code === 'unrecognized_keys')
		return faults['lesson-schema']({
			place: place([...path, issue.keys[0]]),
			found: `There is no such key here: ${issue.keys.map((key) => `"${key}"`).join(', ')}`
		});
	const words = issue.message
		.replace(/^Invalid input: /, '')
		.replace(/^expected (.*), received undefined$/, 'this is missing; a $1 is needed')
		.replace(/^Invalid discriminator value\. Expected/, 'Expected one of')
		.replace(/\.$/, '');
	return faults['lesson-schema']({
		place: place(path),
		found: words.charAt(0).toUpperCase() + words.slice(1)
	});
}
