import type { z } from 'zod';

/** One thing wrong with a value, in words: where, what was found, and what is allowed there. */
export interface Issue {
	readonly path: readonly (string | number)[];
	readonly found: string;
	readonly allowed: string;
}

const at = (value: unknown, path: readonly PropertyKey[]): unknown =>
	path.reduce<unknown>(
		(inner, key) =>
			typeof inner === 'object' && inner !== null && Object.hasOwn(inner, key)
				? (inner as Record<PropertyKey, unknown>)[key]
				: undefined,
		value
	);

/** A value as the user may have written it, cut to a readable length. */
export function written(value: unknown): string {
	if (value === undefined) return 'nothing';
	if (typeof value === 'number') return String(value);
	const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? String(value));
	const short = text.length > 60 ? `${text.slice(0, 57)}…` : text;
	return typeof value === 'string' ? `"${short}"` : short;
}

/** A path as one would say it: `parts[item 1].attenuation`. */
export const pathText = (path: readonly (string | number)[]): string =>
	path
		.map((key, i) => (typeof key === 'number' ? `[item ${key + 1}]` : i === 0 ? key : `.${key}`))
		.join('') || 'the whole';

/** The first issue of a refused value. `raw` is the value that was refused. */
export function firstIssue(error: z.ZodError, raw: unknown): Issue {
	return toIssue(error.issues[0], raw, []);
}

function toIssue(issue: z.core.$ZodIssue, raw: unknown, before: readonly PropertyKey[]): Issue {
	const path = [...before, ...issue.path];
	if (issue.code === 'unrecognized_keys') {
		return {
			path: plain(path),
			found: `the unknown key "${issue.keys[0]}"`,
			allowed: 'Remove it, or look for a misspelling of a key that exists.'
		};
	}
	// a union reports what each of its forms found wrong; meant is the one of the kind given, of several the one that got
	// furthest
	if (issue.code === 'invalid_union' && issue.errors.length > 0) {
		const meant = issue.errors.filter((form) => !form.some((inner) => inner.path.join() === 'kind'));
		if (meant.length === 0)
			return {
				path: plain([...path, 'kind']),
				found: written(at(raw, [...path, 'kind'])),
				allowed: issue.message
			};
		const deepest = meant.flat().reduce((a, b) => (b.path.length > a.path.length ? b : a), meant[0][0]);
		if (deepest.path.length > 0) return toIssue(deepest, raw, path);
	}
	return { path: plain(path), found: written(at(raw, path)), allowed: allowedBy(issue) };
}

/** What the schema library says where the schema itself says nothing, in plain words. */
const EXPECTED: Readonly<Record<string, string>> = {
	object: 'Give a group of settings.',
	array: 'Give a list.',
	number: 'Give a number that is finite.',
	string: 'Give text.'
};

const allowedBy = (issue: z.core.$ZodIssue): string =>
	issue.code === 'invalid_type' && issue.message.startsWith('Invalid input')
		? (EXPECTED[issue.expected] ?? issue.message)
		: issue.message;

const plain = (path: readonly PropertyKey[]): (string | number)[] =>
	path.map((key) => (typeof key === 'number' ? key : String(key)));
