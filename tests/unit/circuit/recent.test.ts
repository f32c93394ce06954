import { expect, test } from 'vitest';
import { Recent } from '#lib/circuit/recent.ts';

test('the key put in first is forgotten first', () => {
	const recent = new Recent<number, string>(2);
	recent.set(1, 'a');
	recent.set(2, 'b');
	recent.set(1, 'c');
	recent.set(3, 'd');
	expect([1, 2, 3].map((key) => recent.get(key))).toEqual(['c', undefined, 'd']);
	recent.delete(3);
	expect(recent.get(3)).toBeUndefined();
});
