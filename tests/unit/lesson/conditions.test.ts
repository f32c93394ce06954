import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Fault } from '#lib/fault.ts';
import { parseExpression } from '#lib/lesson/conditions.ts';
import { evaluate, type ReadObservable } from '#lib/lesson/evaluate.ts';
import { kindOf } from '#lib/lesson/kinds.ts';
import { vocabulary } from '#lib/lesson/vocabulary.ts';
import { FakeBench } from './fake-bench.ts';

const bench = new FakeBench();
const read: ReadObservable = (name, args) => bench.read(name, args);
const words = vocabulary(bench, new Map([['fall', 'attenuation']]), new Map([['before', 'level']]));
const value = (source: string) => evaluate(parseExpression(source, 'here'), read);
const kind = (source: string) => kindOf(parseExpression(source, 'here'), words, 'here', source);

test.each([
	['-35 dBm', -35],
	['169.5 MHz', 169.5e6],
	['41 ps', 41e-12],
	['50 ohm', 50],
	['50 Ω', 50],
	['5 µs', 5e-6],
	['1 kHz', 1000],
	['\u22123 dB', -3],
	['5 %', 0.05],
	['2 + 3 * 4', 14],
	['(2 + 3) * 4', 20],
	['7 / 2 - -1', 4.5],
	['abs(level.device + 10 dB)', 20],
	['min(3, 1, 2) + max(4, 5)', 6],
	['displayed.R(169.5 MHz)', 41.695],
	['level.device < -20 dBm and not device.is("open")', true],
	['-35 dBm < level.device <= -30 dBm', true],
	['-30 dBm < level.device < -20 dBm', false],
	['level.device < -90 dBm or device.is("preamp")', true],
	['calibration.averages == 16', true],
	['true and 1 != 2', true]
])('%s comes out as %s', (source, expected) => {
	expect(value(source)).toBe(expected);
});

test.each([
	['level.device + 3 dB', 'level'],
	['level.device - kept.before', 'attenuation'],
	['2 * pad.attenuation', 'attenuation'],
	['displayed.R(1 MHz) / 50 ohm', 'number'],
	['answer("fall") > 3 dB', 'boolean'],
	['5 %', 'number']
])('%s is of kind %s', (source, expected) => {
	expect(kind(source)).toBe(expected);
});

test.each([
	'level.device < 169.5 MHz',
	'level.device + level.source',
	'-level.device',
	'2 * level.device',
	'abs(level.device)',
	'displayed.R(1 MHz) > 40',
	'pad.attenuation == 20 dBm',
	'level.device and true',
	'device.is("open") < true',
	'"a" + "b"',
	'max(1 dB, 1 ohm)',
	'not 3'
])('kinds that do not go together are refused: %s', (source) => {
	expect(() => kind(source)).toThrow('do not go together');
});

test('an unknown name is refused with the nearest known one', () => {
	expect(() => kind('level.devise < 0 dBm')).toThrow(
		'There is no observable "level.devise". Did you mean "level.device"?'
	);
	expect(() => kind('answer("fell") > 3 dB')).toThrow('Did you mean');
	expect(() => kind('displayed.R')).toThrow('Write it as "displayed.R(169.5 MHz)"');
	expect(() => kind('displayed.R(3 dB)')).toThrow('it takes a frequency');
});

/** What a stranger may try: each is refused as it is read, or is an unknown name; none reaches anything. */
const hostile = [
	'constructor',
	'level.constructor',
	'level.constructor("return process")()',
	'__proto__',
	'level.__proto__.polluted',
	'level["device"]',
	'displayed["constructor"](1)',
	'import("fs")',
	'import({a: 1})',
	'createUnit("foo")',
	'config({number: "BigNumber"})',
	'parse("1")',
	'evaluate("1")',
	'simplify("1")',
	'reviver("a", 1)',
	'f(x) = x',
	'x = 1',
	'level.device = 3 dBm',
	'1; 2',
	'1\n2',
	'[1, 2]',
	'1:1000000000',
	'{a: 1}',
	'true ? 1 : 2',
	'1e400',
	'9'.repeat(400),
	'Infinity',
	'NaN',
	'null',
	'undefined',
	'2 ^ 9999',
	'170!',
	"level'",
	'1 | 2',
	'7 mod 2',
	'5 dB to dBm',
	'2 level.device',
	'3 dB dB',
	'3 parsecs',
	'1 + 5 %',
	'5 % + 1',
	'1/2 MHz',
	'x.abs(3)',
	'"a".constructor',
	'displayed.R(level.device)',
	'le\u200bvel.device',
	'ｌevel.device',
	'level.devicе',
	'\u202eecived.level',
	'(',
	'',
	'a.b.c.d.e.f.g',
	'a_b',
	'toString()',
	'valueOf()',
	'hasOwnProperty("a")'
];

test.each(hostile)('hostile: %s', (source) => {
	expect(() => kind(source)).toThrow(Fault);
});

test('long and deep expressions are refused before they are read', () => {
	const started = performance.now();
	for (const bomb of [
		'('.repeat(20_000),
		'1+'.repeat(200_000) + '1',
		'['.repeat(20_000),
		'a.'.repeat(20_000)
	])
		expect(() => parseExpression(bomb, 'here')).toThrow('characters long; 500 are allowed');
	expect(() => parseExpression('('.repeat(249) + '1' + ')'.repeat(249), 'here')).toThrow(
		'more than 200 parts'
	);
	expect(() => parseExpression('1+'.repeat(240) + '1', 'here')).toThrow('more than 200 parts');
	expect(performance.now() - started).toBeLessThan(2000);
});

test('nothing of the program is changed by reading hostile expressions', () => {
	const before = value('1 / 3');
	for (const source of hostile) {
		try {
			parseExpression(source, 'here');
		} catch {
			// Refusing is right; what counts is what is left behind.
		}
	}
	expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
	expect(value('1 / 3')).toBe(before);
});

/** Random trees of + − × ÷, comparisons and logic, written out; JavaScript itself says what they come to. */
const small = fc.integer({ min: 0, max: 99 }).map(String);
const arithmetic = fc
	.letrec<{ sum: string }>((tie) => ({
		sum: fc.oneof(
			{ maxDepth: 4, withCrossShrink: true },
			small,
			fc
				.tuple(tie('sum'), fc.constantFrom('+', '-', '*', '/'), tie('sum'))
				.map(([a, o, b]) => `(${a} ${o} ${b})`),
			tie('sum').map((a) => `(-${a})`)
		)
	}))
	.sum.filter((source) => source.length <= 400);

const javascript = (source: string): unknown => new Function(`return ${source}`)();

test('arithmetic comes out as in JavaScript (300 trees, seed 11)', () => {
	fc.assert(
		fc.property(arithmetic, (source) => {
			const expected = javascript(source);
			// −0 and 0 are told apart by neither a comparison nor a reader.
			expect(Number(value(source)) + 0).toBe(Number(expected) + 0);
		}),
		{ seed: 11, numRuns: 300 }
	);
});

test('comparisons and logic come out as in JavaScript, precedence included (300 trees, seed 12)', () => {
	const comparison = fc.tuple(arithmetic, fc.constantFrom('<', '<=', '>', '>=', '==', '!='), arithmetic);
	const property = fc.property(comparison, comparison, comparison, fc.boolean(), (a, b, c, negated) => {
		const parts = [a, b, c].map((three) => three.join(' '));
		fc.pre(parts.join('').length < 450);
		const source = `${negated ? 'not ' : ''}(${parts[0]}) or ${parts[1]} and ${parts[2]}`;
		const same = `${negated ? '!' : ''}(${parts[0]}) || ${parts[1]} && ${parts[2]}`;
		expect(value(source)).toBe(javascript(same));
	});
	fc.assert(property, { seed: 12, numRuns: 300 });
});

test('any text at all is read or refused with a Fault, nothing else (2000 texts, seed 13)', () => {
	const piece = fc.oneof(
		fc.constantFrom(
			'level',
			'.',
			'device',
			'(',
			')',
			'"',
			"'",
			'-',
			'35',
			' ',
			'dBm',
			'and',
			'not',
			'=',
			'[',
			']',
			';',
			':',
			'?',
			'^',
			'!',
			'{',
			'}',
			',',
			'\\',
			'#',
			'%',
			'__proto__',
			'constructor',
			'\n'
		),
		fc.string({ maxLength: 4 })
	);
	fc.assert(
		fc.property(
			fc.array(piece, { maxLength: 30 }).map((pieces) => pieces.join('')),
			(source) => {
				try {
					kind(source);
				} catch (error) {
					expect(error).toBeInstanceOf(Fault);
				}
			}
		),
		{ seed: 13, numRuns: 2000 }
	);
});
