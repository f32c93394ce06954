import { stringify } from 'yaml';
import { z } from 'zod';
import type { BenchDocument } from '#lib/bench/command.ts';
import { faults } from '#lib/bench/faults.ts';
import { calibrations } from '#lib/bench/calibrations.ts';
import { EMPTY_HISTORY, history } from '#lib/bench/history.ts';
import { firstIssue, pathText, written } from '#lib/bench/issue.ts';
import { setup } from '#lib/bench/setup.ts';
import { controlLine, isMap, readPlainYaml } from './plain-yaml.ts';

/** The version of the bench file that this program writes. */
export const BENCH_FILE_VERSION = 1;
/** Characters; a device of 100 000 frequencies as a two-port needs about this much. */
const LARGEST = 40_000_000;

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
	const control = controlLine(text);
	if (control !== undefined) throw faults['bench-text']({ file, line: control });
	const plain = readPlainYaml(text);
	if ('problem' in plain) throw faults['bench-syntax']({ file, ...plain });
	const raw = plain.data;
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
			line: plain.lineOf(issue.path),
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
