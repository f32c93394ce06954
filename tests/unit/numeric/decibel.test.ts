import { expect, test } from 'vitest';
import { dbFromPower, dbFromRatio, dbmFromWatts, powerFromDb, ratioFromDb } from '#lib/numeric/decibel.ts';

test('ratios and powers there and back', () => {
	for (const db of [-93, -20, 0, 3, 40]) {
		expect(dbFromRatio(ratioFromDb(db))).toBeCloseTo(db, 12);
		expect(dbFromPower(powerFromDb(db))).toBeCloseTo(db, 12);
		expect(ratioFromDb(db) ** 2 / powerFromDb(db)).toBeCloseTo(1, 12);
	}
});

test('nothing at all is minus infinity', () => {
	expect(dbFromRatio(0)).toBe(-Infinity);
	expect(dbFromPower(0)).toBe(-Infinity);
	expect(dbmFromWatts(0)).toBe(-Infinity);
});
