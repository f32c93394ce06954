import { LineCounter, parseDocument, stringify, visit } from 'yaml';
import type { Document } from 'yaml';
import { z } from 'zod';
import type { BenchDocument } from '#lib/bench/command.ts';
import { faults } from '#lib/bench/faults.ts';
import { calibrations, EMPTY_HISTORY, history } from '#lib/bench/history.ts';
import { firstIssue, pathText, written } from '#lib/bench/issue.ts';
import { setup } from '#lib/bench/setup.ts';

/** The version of the bench file that this program writes. */
export const BENCH_FILE_VERSION = 1;
/** Characters; a device of 100 000 frequencies as a two-port needs about this much. */
const LARGEST = 40_000_000;
/** Nodes within nodes, far more than a bench has. */
const DEEPEST = 60;
const TOO_DEEP = 'it is nested too deeply';
/** What no text file holds; a terminal might even obey it. */
const CONTROL = /[\0-\x08\x0b\x0c\x0e-\x1f\x7f]/;

const benchFile = z
	.strictObject({
		'faint echo bench': z.literal(BENCH_FILE_VERSION, { error: `Give ${BENCH_FILE_VERSION}.` }),
		setup,
		history: history.optional()
	})
	.superRefine((file, context) => {
		// otherwise a bench would show uncorrected readings without a word
		const used = file.setup.processing.calibration;
		const made = calibrations(file.history ?? EMPTY_HISTORY).map((c) => c.id);
		if (used !== null && !made.includes(used))
			context.addIssue({
				code: 'custom',
				path: ['setup', 'processing', 'calibration'],
				input: used,
				message: `Give a calibration of which the history has all three standards (${made.join(', ') || 'there is none'}), or null.`
			});
	});

/** What a bench file holds: setup and history. */
export type BenchFile = z.output<typeof benchFile>;

/** The published form of the file, as JSON Schema (draft 2020-12) from the same source as the checks. */
export const benchJsonSchema = (): unknown =>
	z.toJSONSchema(benchFile, { io: 'input', unrepresentable: 'any' });

/**
 * Reads a bench file (YAML or JSON, quantities with units). Nothing but plain data comes of it: no tags, no aliases,
 * no duplicate keys.
 * @throws Fault `bench-size`, `bench-text`, `bench-syntax`, `bench-version` or `bench-value`, naming file, path and line.
 */
export function readBench(text: string, file: string): BenchDocument {
	if (text.length > LARGEST) throw faults['bench-size']({ file, found: text.length, allowed: LARGEST });
	const control = CONTROL.exec(text);
	if (control) throw faults['bench-text']({ file, line: text.slice(0, control.index).split('\n').length });
	const lines = new LineCounter();
	const document = parseDocument(text, {
		uniqueKeys: true,
		lineCounter: lines,
		merge: false,
		version: '1.2'
	});
	const problem = syntaxProblem(document);
	if (problem)
		throw faults['bench-syntax']({ file, line: lines.linePos(problem.at).line, problem: problem.words });
	const raw: unknown = document.toJS({ maxAliasCount: 0 });
	const version = isMap(raw) ? raw['faint echo bench'] : undefined;
	if (version === undefined) throw faults['bench-kind']({ file, found: written(raw ?? undefined) });
	if (version !== BENCH_FILE_VERSION)
		throw faults['bench-version']({ file, found: written(version), allowed: BENCH_FILE_VERSION });
	const checked = z.safeDecode(benchFile, raw as z.input<typeof benchFile>);
	if (!checked.success) {
		const issue = firstIssue(checked.error, raw);
		throw faults['bench-value']({
			file,
			path: pathText(issue.path),
			line: lineOf(document, issue.path, lines),
			found: issue.found,
			allowed: issue.allowed
		});
	}
	return { setup: checked.data.setup, history: checked.data.history ?? EMPTY_HISTORY };
}

/** Writes a bench file; `readBench` gives back exactly the same document. */
export function writeBench(document: BenchDocument): string {
	const whole = z.encode(benchFile, {
		'faint echo bench': BENCH_FILE_VERSION,
		setup: document.setup,
		history: document.history
	});
	return stringify(whole, { lineWidth: 0, aliasDuplicateObjects: false, collectionStyle: 'any' });
}

/** The same as plain JSON data, for a share link. */
export const benchData = (document: BenchDocument): unknown =>
	z.encode(benchFile, {
		'faint echo bench': BENCH_FILE_VERSION,
		setup: document.setup,
		history: document.history
	});

/** What keeps a parsed file from being plain data, in words, and where; undefined if nothing does. */
function syntaxProblem({
	errors,
	warnings,
	contents
}: Document.Parsed): { words: string; at: number } | undefined {
	const error = errors[0] ?? warnings[0];
	if (error) return { words: syntaxWords(error), at: error.pos[0] };
	let found: { words: string; at: number } | undefined;
	const stop = (words: string, at = 0) => {
		found = { words, at };
		return visit.BREAK;
	};
	visit(contents, {
		Alias: (_, { source, range }) =>
			stop(`the alias "*${source}" is not allowed; write the value out`, range?.[0]),
		Node: (_, { range }, path) => (path.length > DEEPEST ? stop(TOO_DEEP, range?.[0]) : undefined)
	});
	return found;
}

function syntaxWords({
	code,
	message
}: Document.Parsed['errors'][number] | Document.Parsed['warnings'][number]): string {
	if (code === 'MULTIPLE_DOCS') return 'there is more than one document in the file';
	if (code === 'DUPLICATE_KEY') return 'a key is there twice';
	if (code === 'TAG_RESOLVE_FAILED')
		return `tags are not allowed (${message.split('\n')[0].replace(/ at line.*$/, '')})`;
	if (/call stack/i.test(message)) return TOO_DEEP;
	return message.split('\n')[0].replace(/ at line.*$/, '');
}

const isMap = (value: unknown): value is Record<string, unknown> =>
	typeof value === 'object' && value !== null && !Array.isArray(value);

/** The line of the value at `path`, or of the nearest thing around it that exists. */
function lineOf(document: Document, path: readonly (string | number)[], lines: LineCounter): number {
	for (let length = path.length; length >= 0; length--) {
		const node = document.getIn(path.slice(0, length), true) as
			{ range?: [number, number, number] } | undefined;
		if (node?.range) return lines.linePos(node.range[0]).line;
	}
	return 1;
}
