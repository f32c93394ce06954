import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Fault } from '#lib/fault.ts';
import { readTouchstone } from '#lib/files/touchstone-reader.ts';

const GOOD: [string, string][] = [
	['coil.s1p', '! coil\n# MHz S RI R 50\n1 0.1 -0.2\n2 0.3 -0.4 ! middle\n3 0.5 -0.6\n'],
	['load.s1p', '\ufeff# kHz Z MA R 75\r\n100 0.99 -4\r\n200 0.80 -22\r\n300 1d0 -45\r\n'],
	['stub.s1p', '# Hz Y DB R 1\n1e6 -3 20\n2e6\n-6 40\n'],
	['pad.s2p', '# GHz S DB R 50\n1 -40 0 -10 -5 -10 -5 -40 0\n2 -38 0\n-10 -9\n-10 -9\n-38 0\n'],
	[
		'preamp.s2p',
		'# GHZ S MA R 50\n2 .95 -26 3.57 157 .04 76 .66 -14\n22 .6 -144 1.3 40 .14 40 .56 -85\n4 .7 .64 69 .38\n'
	],
	['tee.s2p', '#\tZ RI R 100\n1 0.7 0 0.5 0 0.5 0 0.7 0.1\n2 0.7 0 0.5 0 0.5 0 0.7 0.2\n'],
	['unnamed.txt', '# MHz Y RI\n1 2 0 -2 0 -2 0 2 0\n2 2 0 -2 0 -2 0 2 0\n']
];

/** Pieces that mean something to the reader, so that damage is likely to get past the first check. */
const PIECES = [
	'',
	' ',
	'\n',
	'\r',
	'\r\n',
	'\t',
	'!',
	'#',
	'[Version] 2.0',
	'-',
	'+',
	'.',
	',',
	'e',
	'd',
	'E+',
	'0',
	'1',
	'9',
	'50',
	'R',
	'R 0',
	'R 75',
	'Hz',
	'GHz',
	'Z',
	'Y',
	'S',
	'H',
	'MA',
	'DB',
	'RI',
	'nan',
	'inf',
	'1e999',
	'1e-999',
	'1e30',
	'1e154',
	'-1e308',
	'1e160 0',
	'-1 0',
	'\u0000',
	'\ufeff',
	'\ud800',
	'Ω',
	'1 2 3',
	'5 4 3 2 1',
	'# MHz S RI R 50\n'
];

/** Harsh: a piece put anywhere, over up to twelve characters, perhaps repeated. */
const blow = fc.record({
	at: fc.nat({ max: 10_000 }),
	remove: fc.nat({ max: 12 }),
	piece: fc.constantFrom(...PIECES),
	times: fc.integer({ min: 1, max: 3 })
});

/** Mild: one character becomes another that a number or a gap could have; many such files are still good. */
const scratch = fc.record({
	at: fc.nat({ max: 10_000 }),
	remove: fc.constant(1),
	piece: fc.constantFrom(...'0123456789.- \n!'),
	times: fc.constant(1)
});

const damaged = fc
	.tuple(
		fc.constantFrom(...GOOD),
		fc.oneof(
			fc.array(blow, { minLength: 1, maxLength: 3 }),
			fc.array(scratch, { minLength: 1, maxLength: 3 }),
			fc.array(fc.oneof(blow, scratch), { minLength: 1, maxLength: 4 })
		),
		fc.integer({ min: 0, max: 9 })
	)
	.map(([[name, text], mutations, renaming]) => {
		const changed = mutations.reduce((now, { at, remove, piece, times }) => {
			const i = at % (now.length + 1);
			return now.slice(0, i) + piece.repeat(times) + now.slice(i + remove);
		}, text);
		return [renaming === 0 ? name.replace(/\.s1p$/, '.s2p') : name, changed] as const;
	});

test('the files are good before they are damaged', () => {
	for (const [name, text] of GOOD) expect(() => readTouchstone(text, name)).not.toThrow();
});

// 2,000 damaged files from a fixed seed. Nothing here is a matter of chance: a failure is a fault of the reader.
test('a damaged file is read with finite numbers or refused with a fault', { timeout: 20_000 }, () => {
	let refused = 0;
	let accepted = 0;
	fc.assert(
		fc.property(damaged, ([name, text]) => {
			try {
				const { data } = readTouchstone(text, name);
				accepted++;
				expect(data.frequencies.length).toBeGreaterThan(0);
				expect(data.s.length).toBe(2 * data.ports ** 2 * data.frequencies.length);
				expect([...data.frequencies, ...data.s].every(Number.isFinite)).toBe(true);
				expect(data.frequencies.every((f, i) => f >= 0 && (i === 0 || f > data.frequencies[i - 1]))).toBe(
					true
				);
			} catch (error) {
				if (!(error instanceof Fault)) throw error;
				refused++;
				expect(error.message).not.toMatch(/[{}]|undefined|\[object|\p{Cc}/u);
				expect(error.place.startsWith(name)).toBe(true);
			}
		}),
		{ seed: 1169, numRuns: 2000 }
	);
	// Both ways must be walked, or the damage is too mild or too harsh to show anything.
	expect(accepted).toBeGreaterThan(200);
	expect(refused).toBeGreaterThan(200);
});

test('a long line of digits or spaces takes no long time', { timeout: 2_000 }, () => {
	const digits = `# MHz S RI\n1 ${'1'.repeat(9_900)}x 0\n`;
	const spaces = `# MHz S RI\n1 0 0${' '.repeat(1_000_000)}x\n`;
	expect(() => readTouchstone(digits, 'x.s1p')).toThrow(Fault);
	expect(() => readTouchstone(spaces, 'x.s1p')).toThrow(Fault);
});
