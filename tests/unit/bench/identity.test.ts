import { expect, test } from 'vitest';
import fc from 'fast-check';
import { keepIdentity } from '#lib/bench/identity.ts';

const plain = fc.jsonValue({ maxDepth: 4 });

test('a copy is replaced by the very thing it is a copy of', () => {
	fc.assert(
		fc.property(plain, (value) => {
			expect(Object.is(keepIdentity(value, structuredClone(value)), value)).toBe(true);
		}),
		{ seed: 1694, numRuns: 500 }
	);
});

test('the values are always those of the new thing', () => {
	fc.assert(
		fc.property(plain, plain, (before, next) => {
			expect(keepIdentity(before, structuredClone(next))).toEqual(next);
		}),
		{ seed: 1694, numRuns: 500 }
	);
});

test('what is beside a change keeps its identity; what holds it does not', () => {
	const before = { parts: [{ id: 'pad' }, { id: 'cable' }], source: { level: -20 } };
	const next = keepIdentity(
		before,
		structuredClone({ ...before, parts: [{ id: 'pad' }, { id: 'adapter' }] })
	);
	expect(next).not.toBe(before);
	expect(next.source).toBe(before.source);
	expect(next.parts).not.toBe(before.parts);
	expect(next.parts[0]).toBe(before.parts[0]);
});

test('a key more, a key less and a list made shorter are changes', () => {
	const before: Record<string, unknown> = { a: 1, b: [1, 2] };
	expect(keepIdentity(before, { a: 1, b: [1, 2], c: undefined })).not.toBe(before);
	expect(keepIdentity(before, { a: 1 })).toEqual({ a: 1 });
	expect(keepIdentity(before, { a: 1, b: [1] })).toEqual({ a: 1, b: [1] });
	expect(keepIdentity({ a: undefined }, { b: undefined })).toEqual({ b: undefined });
});
