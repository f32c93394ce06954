import fc from 'fast-check';
import { expect, test } from 'vitest';
import { writeCsv } from '#lib/files/csv.ts';

test('comments, header with units, rows', () => {
	const text = writeCsv(
		[
			{ name: 'frequency', unit: 'Hz', values: Float64Array.of(169_400_000, 169_500_000) },
			{ name: 'R', unit: 'Ω', values: [48.25, -0.1] },
			{ name: 'sweep', unit: '', values: [1, 2] }
		],
		['Level at the device −60 dBm', 'two\r\nlines']
	);
	expect(text).toBe(
		'# Level at the device −60 dBm\r\n# two\r\n# lines\r\n' +
			'frequency (Hz),R (Ω),sweep\r\n169400000,48.25,1\r\n169500000,-0.1,2\r\n'
	);
});

// RFC 4180 (2005), section 2, rules 6 and 7.
test('header cells with commas, quotes or line breaks are quoted', () => {
	const header = (name: string) => writeCsv([{ name, unit: '', values: [] }], []);
	expect(header('R, X')).toBe('"R, X"\r\n');
	expect(header('the "true" R')).toBe('"the ""true"" R"\r\n');
	expect(header('a\nb')).toBe('"a\nb"\r\n');
	expect(header('plain')).toBe('plain\r\n');
});

test('a value that is not finite leaves its cell empty', () => {
	const columns = [NaN, Infinity, -Infinity, 0].map((value, i) => ({
		name: `c${i}`,
		unit: 'm',
		values: [value]
	}));
	expect(writeCsv(columns, [])).toBe('c0 (m),c1 (m),c2 (m),c3 (m)\r\n,,,0\r\n');
});

test('no columns, no table', () => {
	expect(writeCsv([], ['only a remark'])).toBe('# only a remark\r\n');
	expect(writeCsv([], [])).toBe('');
});

test('columns of unequal length are refused', () => {
	const columns = [
		{ name: 'frequency', unit: 'Hz', values: [1, 2] },
		{ name: 'X', unit: 'Ω', values: [1] }
	];
	expect(() => writeCsv(columns, [])).toThrow(
		'CSV export, column "X": The column has 1 values where the first column has 2. Give every column the same number of values.'
	);
});

test('numbers come back exactly', () => {
	// Any finite double: a cell is text of any length.
	const number = fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
	fc.assert(
		fc.property(fc.array(number, { minLength: 1, maxLength: 20 }), (values) => {
			const rows = writeCsv([{ name: 'x', unit: 'm', values }], [])
				.split('\r\n')
				.slice(1, -1);
			expect(rows.map(Number)).toEqual(values);
		}),
		{ seed: 4180, numRuns: 300 }
	);
});
