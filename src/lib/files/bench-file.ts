import { LineCounter, parseDocument, stringify } from 'yaml';
import type { Document } from 'yaml';
import { z } from 'zod';
import type { BenchDocument } from '#lib/bench/command.ts';
import { faults } from '#lib/bench/faults.ts';
import { EMPTY_HISTORY, history } from '#lib/bench/history.ts';
import { firstIssue, pathText, written } from '#lib/bench/issue.ts';
import { setup } from '#lib/bench/setup.ts';
import { label } from '#lib/bench/schema-parts.ts';

/** The version of the bench file that this program writes. */
export const BENCH_FILE_VERSION = 1;
/** Characters; a device of 100 000 frequencies as a two-port needs about this much. */
const LARGEST = 40_000_000;

const benchFile = z.strictObject({
	'faint echo bench': z.literal(BENCH_FILE_VERSION, { error: `Give ${BENCH_FILE_VERSION}.` }),
	setup,
	history: history.optional(),
	notes: z.array(label.max(2000)).optional()
});

/** What a bench file holds: setup and history. */
export type BenchFile = z.output<typeof benchFile>;

/** The published form of the file, as JSON Schema (draft 2020-12) from the same source as the checks. */
export const benchJsonSchema = (): unknown => z.toJSONSchema(benchFile, { io: 'input', unrepresentable: 'any' });

/**
 * Reads a bench file (YAML or JSON, quantities with units). Nothing but plain data comes of it: no tags, no aliases,
 * no duplicate keys.
 * @throws Fault `bench-size`, `bench-syntax`, `bench-version` or `bench-value`, naming file, path and line.
 */
export function readBench(text: string, file: string): BenchDocument {
	if (text.length > LARGEST) throw faults['bench-size']({ file, found: text.length, allowed: LARGEST });
	const lines = new LineCounter();
	const document = parseDocument(text, { uniqueKeys: true, lineCounter: lines, merge: false, version: '1.2' });
	const problem = document.errors[0] ?? document.warnings[0];
	if (problem) {
		const line = lines.linePos(problem.pos[0]).line;
		throw faults['bench-syntax']({ file, line, problem: problem.message.split('\n')[0].replace(/ at line.*$/, '') });
	}
	const raw = plainData(document, file);
	const version = isMap(raw) ? raw['faint echo bench'] : undefined;
	if (version === undefined) throw faults['bench-kind']({ file, found: written(raw) });
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
	z.encode(benchFile, { 'faint echo bench': BENCH_FILE_VERSION, setup: document.setup, history: document.history });

function plainData(document: Document, file: string): unknown {
	try {
		return document.toJS({ maxAliasCount: 0 });
	} catch (error) {
		const problem = error instanceof Error ? error.message : String(error);
		throw faults['bench-syntax']({ file, line: 1, problem: `aliases are not allowed (${problem})` });
	}
}

const isMap = (value: unknown): value is Record<string, unknown> =>
	typeof value === 'object' && value !== null && !Array.isArray(value);

/** The line of the value at `path`, or of the nearest thing around it that exists. */
function lineOf(document: Document, path: readonly (string | number)[], lines: LineCounter): number {
	for (let length = path.length; length >= 0; length--) {
		const node = document.getIn(path.slice(0, length), true) as { range?: [number, number, number] } | undefined;
		if (node?.range) return lines.linePos(node.range[0]).line;
	}
	return 1;
}
