import { expect, test } from 'vitest';
import fc from 'fast-check';
import { at, complexArray } from '#lib/numeric/complex.ts';
import { cascade, chainOf, identity, looking, twoPort } from '#lib/network/two-port.ts';
import { aChain, aGamma, aPart, distance, FREQUENCIES, leastAbsorption, twoPortDistance } from './parts.ts';

const N = FREQUENCIES.length;
const seed = 41;

test('parts and chains of parts are passive and reciprocal', () => {
	fc.assert(
		fc.property(aChain, (parts) => {
			const whole = chainOf(parts, N);
			expect(leastAbsorption(whole)).toBeGreaterThan(-1e-12);
			expect(distance(whole.s12, whole.s21)).toBeLessThan(1e-13);
			expect(leastAbsorption(parts[0])).toBeGreaterThan(-1e-12);
		}),
		{ seed }
	);
});

test('the order of joining does not matter', () => {
	fc.assert(
		fc.property(aPart, aPart, aPart, (a, b, c) => {
			expect(twoPortDistance(cascade(cascade(a, b), c), cascade(a, cascade(b, c)))).toBeLessThan(1e-11);
		}),
		{ seed }
	);
});

test('a through before or behind changes nothing, bit for bit', () => {
	fc.assert(
		fc.property(aPart, (part) => {
			expect(twoPortDistance(cascade(identity(N), part), part)).toBe(0);
			expect(twoPortDistance(cascade(part, identity(N)), part)).toBe(0);
		}),
		{ seed }
	);
});

test('looking through a chain is looking through its parts one by one', () => {
	fc.assert(
		fc.property(aPart, aPart, aGamma(1), (a, b, end) => {
			expect(distance(looking(cascade(a, b), end), looking(a, looking(b, end)))).toBeLessThan(1e-9);
		}),
		{ seed }
	);
});

test('a passive chain never reflects more than arrives', () => {
	fc.assert(
		fc.property(aChain, aGamma(1), (parts, end) => {
			const { re, im } = looking(chainOf(parts, N), end);
			re.forEach((x, i) => expect(Math.hypot(x, im[i])).toBeLessThan(1 + 1e-12));
		}),
		{ seed }
	);
});

test('the result may be written over either part', () => {
	const [a, b] = fc.sample(fc.tuple(aPart, aPart), { seed, numRuns: 1 })[0];
	const whole = cascade(a, b);
	expect(twoPortDistance(cascade(a, structuredClone(b), a), whole)).toBe(0);
	const [c, d] = fc.sample(fc.tuple(aPart, aPart), { seed, numRuns: 1 })[0];
	expect(twoPortDistance(cascade(c, d, d), whole)).toBe(0);
});

test('opens facing each other, an infinite pad and a part that lets nothing through give numbers', () => {
	const parted = twoPort(1);
	parted.s11.re[0] = 1;
	parted.s22.re[0] = 1;
	const open = complexArray(1);
	open.re[0] = 1;
	expect(at(looking(parted, open), 0)).toEqual({ re: 1, im: 0 });
	expect(twoPortDistance(cascade(parted, parted), parted)).toBe(0);
	expect(at(looking(twoPort(1), open), 0)).toEqual({ re: 0, im: 0 });
	expect(twoPortDistance(cascade(twoPort(1), identity(1)), twoPort(1))).toBe(0);
	expect(at(looking(identity(1), open), 0)).toEqual({ re: 1, im: 0 });
});

test('a loop of gain exactly one is not hidden', () => {
	const amplifier = twoPort(1);
	amplifier.s21.re[0] = 2;
	amplifier.s12.re[0] = 0.5;
	amplifier.s22.re[0] = 1;
	const open = complexArray(1);
	open.re[0] = 1;
	expect(Number.isFinite(looking(amplifier, open).re[0])).toBe(false);
});

test('no part at all is a through', () => {
	expect(twoPortDistance(chainOf([], 3), identity(3))).toBe(0);
});
