import { expect, test } from 'vitest';
import { readTouchstone } from '#lib/files/touchstone-reader.ts';

const ONE_PORT_ROW = '1 0.25 -0.5';
const TWO_PORT_ROW = '1 0.11 0 0.21 0 0.12 0 0.22 0';

const read = (text: string, name = 'coil.s1p') => readTouchstone(text, name);

function expectNear(got: readonly number[], expected: readonly number[], tolerance = 1e-12): void {
	expect(got.length).toBe(expected.length);
	got.forEach((value, i) =>
		expect(Math.abs(value - expected[i]), `number ${i}`).toBeLessThanOrEqual(tolerance)
	);
}

const polar = (size: number, degrees: number): [number, number] => [
	size * Math.cos((degrees * Math.PI) / 180),
	size * Math.sin((degrees * Math.PI) / 180)
];

// IBIS Open Forum, Touchstone File Format Specification, revision 1.1, example 1.
test('the first example of the specification', () => {
	const { data, notes } = read(
		'!1-port S-parameter file\n# MHz S MA R 50\n!freq magS11 angS11\n2.000 0.894 -12.136\n'
	);
	expect(data.ports).toBe(1);
	expect(data.frequencies).toEqual([2e6]);
	expectNear(data.s, polar(0.894, -12.136));
	expect(notes).toEqual([]);
});

// The same network stands in version 2.0 (2009) of the specification twice: example 9 (version 1) normalised to
// 75 Ω, example 10 (version 2) in ohms. The ohms give Γ = (Z − 50)/(Z + 50), computed here without the reader.
test('impedances are normalised to the reference resistance', () => {
	const { data, notes } = read(
		'# MHz Z MA R 75\n100 0.99 -4\n200 0.80 -22\n300 0.707 -45\n400 0.40 -62\n500 0.01 -89'
	);
	const ohms = [
		[74.25, -4],
		[60, -22],
		[53.025, -45],
		[30, -62],
		[0.75, -89]
	];
	const expected = ohms.flatMap(([size, degrees]) => {
		const [r, x] = polar(size, degrees);
		const d = (r + 50) ** 2 + x ** 2;
		return [(r * r + x * x - 2500) / d, (100 * x) / d];
	});
	expectNear(data.s, expected);
	expect(notes).toEqual([
		'Impedance parameters, normalised to 75 Ω as version 1 files define, were turned into S parameters.',
		'The reference resistance was changed from 75 Ω to 50 Ω.'
	]);
});

// Example 4 of revision 1.1: rows of different spacing, a number of ohms with a decimal point.
test('a two-port over three frequencies', () => {
	const { data } = read(
		'# GHZ S RI R 50.0\n' +
			'1.0000 0.3926 -0.1211 -0.0003 -0.0021 -0.0003 -0.0021 0.3926 -0.1211\n' +
			'2.0000 0.3517 -0.3054 -0.0096 -0.0298 -0.0096 -0.0298 0.3517 -0.3054\n' +
			'10.000 0.3419  0.3336 -0.0134  0.0379 -0.0134  0.0379 0.3419  0.3336\n',
		'FILTER.S2P'
	);
	expect(data.ports).toBe(2);
	expect(data.frequencies).toEqual([1e9, 2e9, 1e10]);
	expect(data.s.slice(8, 16)).toEqual([0.3517, -0.3054, -0.0096, -0.0298, -0.0096, -0.0298, 0.3517, -0.3054]);
});

// Example 8 of revision 1.1: an amplifier, S21 before S12, and noise parameters that begin where the frequency falls.
test('a two-port with noise parameters', () => {
	const { data, notes } = read(
		'# GHZ S MA R 50\n2 .95 -26 3.57 157 .04 76 .66 -14\n22 .60 -144 1.30 40 .14 40 .56 -85\n' +
			'! NOISE PARAMETERS\n4 .7 .64 69 .38\n18 2.7 .46 -33 .40\n',
		'amplifier.s2p'
	);
	expect(data.frequencies).toEqual([2e9, 22e9]);
	expectNear(
		data.s.slice(0, 8),
		[polar(0.95, -26), polar(0.04, 76), polar(3.57, 157), polar(0.66, -14)].flat()
	);
	expect(notes).toEqual(['Noise parameters from line 5 on were left out.']);
});

test('noise parameters may begin at the highest frequency of the network', () => {
	const { data, notes } = read(`# MHz S RI\n${TWO_PORT_ROW}\n1 0.7 0.6 69 0.4\n9 0.7 0.6 69 0.4\n`, 'x.s2p');
	expect(data.frequencies).toEqual([1e6]);
	expect(notes).toEqual(['Noise parameters from line 3 on were left out.']);
});

test('a two-port is stored row by row though a file has 21 before 12', () => {
	expect(read(`# MHz S RI\n${TWO_PORT_ROW}`, 'x.s2p').data.s).toEqual([0.11, 0, 0.12, 0, 0.21, 0, 0.22, 0]);
});

test('what the option line leaves out has the default of the specification', () => {
	expect(read('#\n1 1 0').data).toEqual({ ports: 1, frequencies: [1e9], s: [1, 0] });
	expect(read('# khz ri\n1 0.25 -0.5').data).toEqual({ ports: 1, frequencies: [1000], s: [0.25, -0.5] });
	expect(read('1 1 0').notes).toEqual(['There is no option line; read as "# GHz S MA R 50".']);
});

test.each([
	'# MHz S RI R 50',
	'#mhz s ri r 50',
	'# R 50.0 ri S MHZ',
	'#\tRI\tR 5D1\tmHz',
	'#   S MHz RI   ! remark'
])('the option line %s reads the same in any order and case', (options) => {
	expect(read(`${options}\n${ONE_PORT_ROW}`).data).toEqual({ ports: 1, frequencies: [1e6], s: [0.25, -0.5] });
});

test('only the first option line counts', () => {
	const { data, notes } = read('# MHz S RI\n1 0.5 0\n# GHz S DB R 75\n2 0.5 0\n# nonsense\n');
	expect(data.frequencies).toEqual([1e6, 2e6]);
	expect(notes).toEqual(['Only the first option line counts; ignored on line 3, 5.']);
});

test.each([
	['Windows line ends and a byte order mark', '\ufeff# MHz S RI\r\n\r\n1 0.25 -0.5\r\n'],
	['line ends of CR alone', '! coil\r# MHz S RI\r1 0.25 -0.5\r'],
	['tabs, blank lines and comments', '! a\n\n#\tMHz S RI ! b\n\t1\t0.25\t\t-0.5 !c\n   \n!'],
	['a wrapped row', '# MHz S RI\n1\n0.25 ! half\n-0.5\n'],
	['signs and exponents', '# Hz S RI\n+1.e6 2.5E-1 -.05d+1\n']
])('%s make no difference', (_, text) => {
	expect(read(text).data).toEqual({ ports: 1, frequencies: [1e6], s: [0.25, -0.5] });
});

test.each([
	'1 0.11 0\n0.21 0\n0.12 0\n0.22 0',
	'1 0.11 0 0.21 0\n0.12 0 0.22 0',
	'1 0.11 0 0.21 0 0.12 0 0.22\n0'
])('a two-port row may be spread over lines: %j', (row) => {
	const again = row.replace('1', '2');
	const { data } = read(`# MHz S RI\n${row}\n${again}\n`, 'x.s2p');
	expect(data.frequencies).toEqual([1e6, 2e6]);
	expect(data.s.slice(8)).toEqual([0.11, 0, 0.12, 0, 0.21, 0, 0.22, 0]);
});

test('the columns tell the number of ports where the name does not', () => {
	const one = read(`# MHz S RI\n${ONE_PORT_ROW}`, 'coil.txt');
	expect([one.data.ports, ...one.notes]).toEqual([
		1,
		'The name does not end in .s1p or .s2p; read as a 1-port from its columns.'
	]);
	expect(read(`# MHz S RI\n${TWO_PORT_ROW}`, 'pad.ts').data.ports).toBe(2);
});

test('frequencies are rounded once, not by a product', () => {
	// 0.1695 · 1e9 is 169500000.00000003 in floating point.
	expect(read('# GHz S RI\n0.1695 0 0\n0.2995 0 0').data.frequencies).toEqual([169_500_000, 299_500_000]);
});

test('magnitude, decibels and parts say the same', () => {
	const ri = read('# MHz S RI\n1 0.3 0.4').data.s;
	expectNear(read('# MHz S MA\n1 0.5 53.13010235415598').data.s, ri, 1e-15);
	expectNear(read('# MHz S DB\n1 -6.020599913279624 413.13010235415598').data.s, ri, 1e-15);
	expectNear(read('# MHz S DB\n1 -20 0').data.s, [0.1, 0], 1e-15);
});

test('a reflection above 1 is kept and noted', () => {
	const { data, notes } = read('# MHz S MA\n1 1 10\n2 1.2 10\n3 1.0000001 0\n4 1.5 0\n');
	expectNear(data.s.slice(2, 4), polar(1.2, 10));
	expect(notes).toEqual([
		'At 2 of 4 frequencies, first on line 3, more is reflected than arrives: an active device, or a damaged file.'
	]);
	expect(read('# MHz S MA\n1 0 0 9 0 0 0 1.1 0', 'x.s2p').notes.length).toBe(1);
	expect(read('# MHz S MA\n1 0 0 9 0 0 0 0.9 0', 'x.s2p').notes).toEqual([]);
});

test('too much is refused before it can hurt', () => {
	expect(() => read('!'.repeat(64 * 1024 * 1024 + 1))).toThrow(/67108865 characters; at most 67108864/);
	expect(() => read(`# MHz S RI\n1 0 ${'0'.repeat(20_000)}`)).toThrow(
		/^coil\.s1p, line 2: The line has 20004 characters/
	);
	const rows = Array.from({ length: 100_001 }, (_, i) => `${i} 0 0`);
	expect(read(['# Hz S RI', ...rows.slice(0, 100_000)].join('\n')).data.frequencies.length).toBe(100_000);
	expect(() => read(['# Hz S RI', ...rows].join('\n'))).toThrow(
		/^coil\.s1p, line 100002: .*more than 100000 freq/
	);
});

test('a file name is shown without control characters and without its length', () => {
	expect(() => read('', `a\u001b[2J${'x'.repeat(5000)}.s1p`)).toThrow(
		/^a\?\[2Jx{115}…: The file holds no data\./
	);
});
