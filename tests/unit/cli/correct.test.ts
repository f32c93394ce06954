import { expect, test } from 'vitest';
import { folderWith, perform } from './terminal.ts';

const standards = { open_c: 0, short_l: 0, load_r: 50, load_l: 0 };
// an ideal bridge: the raw reading is the reflection itself
const good = {
	frequencies_hz: [1e8, 2e8],
	standards,
	raw: {
		open: [
			[1, 0],
			[1, 0]
		],
		short: [
			[-1, 0],
			[-1, 0]
		],
		load: [
			[0, 0],
			[0, 0]
		],
		mast: [
			[0.5, 0.25],
			[0, -0.5]
		]
	}
};

async function correct(input: unknown, ...options: string[]) {
	const inside = folderWith({ 'raw.json': typeof input === 'string' ? input : JSON.stringify(input) });
	return perform('correct', inside('raw.json'), ...options);
}

test('an ideal bridge corrects to what was put in; unknown keys are ignored', async () => {
	const { code, printed } = await correct(
		{ ...good, about: 'a note', standards: { ...standards, name: 'kit' } },
		'--json'
	);
	expect(code).toBe(0);
	const { frequencies_hz, gamma } = JSON.parse(printed) as {
		frequencies_hz: number[];
		gamma: Record<string, number[][]>;
	};
	expect(frequencies_hz).toEqual(good.frequencies_hz);
	expect(Object.keys(gamma)).toEqual(['mast']);
	gamma.mast.flat().forEach((value, i) => expect(value).toBeCloseTo(good.raw.mast.flat()[i], 14));
});

test('as text every row has frequency, reflection and impedance with its unit', async () => {
	const { printed } = await correct(good);
	expect(printed).toBe(
		[
			'mast, reflection coefficient against 50 Ω',
			'  100.000 MHz    0.500000   0.250000  110.0 + j80.0 Ω',
			'  200.000 MHz    0.000000  -0.500000  30.0 - j40.0 Ω'
		].join('\n')
	);
});

test('another reference resistance: a load of 75 Ω is no reflection at 75 Ω', async () => {
	const { printed } = await correct(
		{ ...good, z0_ohm: 75, standards: { ...standards, load_r: 75 } },
		'--json'
	);
	const { gamma } = JSON.parse(printed) as { gamma: { mast: number[][] } };
	expect(gamma.mast[0][0]).toBeCloseTo(0.5, 14);
	// the open of 1 pF at 75 Ω and 100 MHz: Γ = (1 − jb)/(1 + jb), b = 2π·10⁸·10⁻¹²·75
	const b = 2 * Math.PI * 1e8 * 1e-12 * 75;
	const open = { ...good, z0_ohm: 75, standards: { ...standards, load_r: 75, open_c: 1e-12 } };
	const same = { ...open, raw: { ...good.raw, mast: good.raw.open } };
	const again = JSON.parse((await correct(same, '--json')).printed) as { gamma: { mast: number[][] } };
	expect(again.gamma.mast[0][0]).toBeCloseTo((1 - b * b) / (1 + b * b), 12);
	expect(again.gamma.mast[0][1]).toBeCloseTo((-2 * b) / (1 + b * b), 12);
});

test('with nothing but standards the answer is empty, and says so', async () => {
	const { open, short, load } = good.raw;
	const { code, printed, noted } = await correct({ ...good, raw: { open, short, load } }, '--json');
	expect(code).toBe(0);
	expect(JSON.parse(printed)).toEqual({ frequencies_hz: good.frequencies_hz, gamma: {} });
	expect(noted).toContain('only the three standards');
});

const without = (key: keyof typeof good) =>
	Object.fromEntries(Object.entries(good).filter(([name]) => name !== key));
const { open, short, mast } = good.raw;

test.each([
	['nothing', '', 'cannot be read as JSON'],
	['a cut-off file', JSON.stringify(good).slice(0, 90), 'cannot be read as JSON'],
	[
		'NaN in JSON',
		'{"frequencies_hz": [1e8,\n NaN]}',
		'raw.json, line 2: The file cannot be read as JSON: there is NaN'
	],
	['a list', [], 'Give an object with frequencies_hz, standards and raw.'],
	['no frequencies', without('frequencies_hz'), 'frequencies_hz: Found nothing.'],
	['an empty list of frequencies', { ...good, frequencies_hz: [] }, 'Give at least one frequency.'],
	[
		'frequencies that fall',
		{ ...good, frequencies_hz: [2e8, 1e8] },
		'frequencies_hz[item 2]: Found 100000000. Give frequencies that rise'
	],
	['a frequency twice', { ...good, frequencies_hz: [1e8, 1e8] }, 'Give frequencies that rise'],
	['a frequency as text', { ...good, frequencies_hz: ['1e8', 2e8] }, 'frequencies_hz[item 1]: Found "1e8".'],
	['no standards', without('standards'), 'standards: Found nothing. Give the standards: open_c'],
	[
		'a standard missing',
		{ ...good, standards: { ...standards, load_r: undefined } },
		'standards.load_r: Found nothing.'
	],
	[
		'a standard as text',
		{ ...good, standards: { ...standards, open_c: '50 fF' } },
		'standards.open_c: Found "50 fF".'
	],
	['no raw readings', without('raw'), 'raw: Found nothing. Give the raw readings by name'],
	['no load among them', { ...good, raw: { open, short, mast } }, 'raw.load: Found nothing.'],
	[
		'too few readings',
		{ ...good, raw: { ...good.raw, mast: [[0, 0]] } },
		'raw.mast: It has 1 readings, and there are 2 frequencies.'
	],
	[
		'a reading of three',
		{
			...good,
			raw: {
				...good.raw,
				mast: [
					[0, 0, 0],
					[0, 0]
				]
			}
		},
		'raw.mast[item 1]: Found [0,0,0]. Give a pair [re, im].'
	],
	[
		'null for a number',
		{
			...good,
			raw: {
				...good.raw,
				mast: [
					[null, 0],
					[0, 0]
				]
			}
		},
		'raw.mast[item 1][item 1]: Found null.'
	],
	['an overflowing number', JSON.stringify(good).replace('0.25', '1e999'), 'Found Infinity.'],
	[
		'a note among the readings',
		{ ...good, raw: { ...good.raw, note: 'cold day' } },
		'raw.note: Found "cold day".'
	],
	['readings that are alike', { ...good, raw: { ...good.raw, short: open } }, '100000000'],
	['a reference of zero', { ...good, z0_ohm: 0 }, 'z0_ohm: Found 0.']
])('%s is refused', async (_, input, words) => {
	const { code, printed, noted } = await correct(input);
	expect([code, printed]).toEqual([2, '']);
	expect(noted).toContain(words);
});
