import { z } from 'zod';
import type { BenchDocument } from '#lib/bench/command.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { faults } from '#lib/bench/faults.ts';
import { EMPTY_HISTORY } from '#lib/bench/history.ts';
import { firstIssue, pathText } from '#lib/bench/issue.ts';
import { BenchSession } from '#lib/bench/session.ts';
import { setup } from '#lib/bench/setup.ts';
import type { OpenBench } from './lesson-bench.ts';

type Written = Readonly<Record<string, unknown>>;

const isMap = (value: unknown): value is Written =>
	typeof value === 'object' && value !== null && !Array.isArray(value);

/** `changes` laid over `base`, map by map; lists and plain values replace. */
function laidOver(base: Written, changes: Written): Written {
	const out: Record<string, unknown> = { ...base };
	for (const [key, value] of Object.entries(changes)) {
		const before = Object.hasOwn(base, key) ? base[key] : undefined;
		// a device or termination of another kind has other keys, so it replaces the one before
		const whole = isMap(value) && isMap(before) && 'kind' in value;
		out[key] = isMap(value) && isMap(before) && !whole ? laidOver(before, value) : value;
	}
	return out;
}

/**
 * The bench a lesson starts from: what it writes under `bench:`, laid over the usual bench. With changes of its own it
 * comes without a calibration and with an empty history.
 * @throws Fault `setup-value` naming what the setup may not be.
 */
export function lessonDocument(changes: Written | undefined): BenchDocument {
	if (changes === undefined) return defaultBench;
	const usual = z.encode(setup, {
		...defaultBench.setup,
		processing: { ...defaultBench.setup.processing, calibration: null }
	}) as unknown as Written;
	const written = laidOver(usual, changes);
	const checked = z.safeDecode(setup, written as z.input<typeof setup>);
	if (!checked.success) {
		const issue = firstIssue(checked.error, written);
		throw faults['setup-value']({
			path: `bench, ${pathText(issue.path)}`,
			found: issue.found,
			allowed: issue.allowed
		});
	}
	return { setup: checked.data, history: EMPTY_HISTORY };
}

/** Opens a bench that answers at once, for walks and the command line. */
export const openSession: OpenBench = (changes) => new BenchSession(lessonDocument(changes));
