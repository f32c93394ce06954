/**
 * `next`, with every part that equals the one in `previous` replaced by that very object. After a copy (through a
 * worker, a file, an undo) identity then tells again what has changed, so that remembered stages stay valid.
 * Plain data only: objects, arrays, strings, numbers, booleans, null.
 */
export function keepIdentity<T>(previous: unknown, next: T): T {
	if (Object.is(previous, next)) return next;
	if (Array.isArray(next)) {
		const old = Array.isArray(previous) ? previous : [];
		const kept = next.map((item, i) => keepIdentity(old[i], item));
		return (old.length === kept.length && kept.every((item, i) => Object.is(item, old[i])) ? old : kept) as T;
	}
	if (isPlain(next)) {
		const old = isPlain(previous) ? previous : {};
		const keys = Object.keys(next);
		const kept = Object.fromEntries(keys.map((key) => [key, keepIdentity(old[key], next[key])]));
		const same =
			Object.keys(old).length === keys.length &&
			keys.every((k) => Object.hasOwn(old, k) && Object.is(kept[k], old[k]));
		return (same ? old : kept) as T;
	}
	return next;
}

const isPlain = (value: unknown): value is Record<string, unknown> =>
	typeof value === 'object' && value !== null && !Array.isArray(value);
