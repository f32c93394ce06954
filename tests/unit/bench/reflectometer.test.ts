import { expect, test } from 'vitest';
import { at, magnitude, subtract } from '#lib/numeric/complex.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { sourceLevels } from '#lib/bench/reflectometer.ts';
import { sweepFrequencies } from '#lib/bench/plant.ts';
import { after, benchWith, command, pictureOf, QUIET } from './examples.ts';

const quiet = benchWith(QUIET).setup;
const frequencies = sweepFrequencies(quiet.sweep);
const few = { ...quiet.sweep, points: 5 };

const furthest = (a: { re: ArrayLike<number>; im: ArrayLike<number> }, b: typeof a): number =>
	Math.max(...Array.from(a.re, (re, i) => Math.hypot(re - b.re[i], a.im[i] - b.im[i])));

test('without flaws the level that goes out is the one that is set', () => {
	expect([...sourceLevels(quiet.source, 1, frequencies)]).toEqual(Array(21).fill(10));
});

test('an error moves the level at every plane, and what is read with it', () => {
	const source = { ...quiet.source, level: -20, error: -3 };
	const [wrong, right] = [source, { ...source, level: -23, error: 0 }].map((s) =>
		pictureOf(benchWith({ ...QUIET, source: s }))
	);
	expect(wrong.markers[1].levels.outgoing).toEqual(right.markers[1].levels.outgoing);
	expect(wrong.expected).toEqual(right.expected);
});

test('a setting that does nothing: the level stays, and the noise with it', () => {
	const stuck = { ...quiet.source, stuck: -10 };
	const bench = (level: number): Setup => ({ ...quiet, sweep: few, source: { ...stuck, level } });
	const [low, high] = [-60, 10].map((level) => pictureOf({ ...benchWith({}), setup: bench(level) }));
	expect(low.markers[1].levels).toEqual(high.markers[1].levels);
	for (const [k, { reading }] of low.markers.entries())
		expect(reading.spreadSingle! / high.markers[k].reading.spreadSingle!).toBeCloseTo(1, 9);
});

test('a ripple is drawn from the seed, and its size is that asked for', () => {
	// 400 seeds of 6 half waves at 21 places of the whole band: the mean square over band and seeds is the size squared
	const wide = Float64Array.from({ length: 21 }, (_, i) => 1e3 * (2e10 / 1e3) ** ((i + 0.5) / 21));
	const source = { ...quiet.source, level: 0, flatness: 0.5 };
	let squares = 0;
	for (let seed = 1; seed <= 400; seed++)
		squares += sourceLevels(source, seed, wide).reduce((s, x) => s + x * x, 0);
	// the mean of 400 sums of squares whose relative deviation is below 1.2: 4.4 deviations are 0.26 (false alarm 1e-5)
	expect(Math.abs(squares / (400 * 21) / 0.25 - 1)).toBeLessThan(0.26);
	expect([...sourceLevels(source, 7, wide)]).toEqual([...sourceLevels(source, 7, wide)]);
	expect([...sourceLevels(source, 7, wide)]).not.toEqual([...sourceLevels(source, 8, wide)]);
});

/** A bench of 25 + j50 Ω, calibrated at the device with next to no noise. */
const calibratedWith = (receiver: Partial<Setup['receiver']>) =>
	after(
		benchWith({ ...QUIET, receiver: { ...quiet.receiver, ...receiver } }),
		command('choose device', { device: 'inductive load' }),
		command('calibrate', { plane: 3, averages: 10_000 }),
		command('set extension', { delay: '0 ps' })
	);

// physics of a linear receiver: a constant leakage is part of e00 as the calibration finds it; what it has changed by since
// moves a corrected Γ by δ·(1 − e11Γ)²/(e10e01), and no averaging lessens it.
test('a constant leakage is calibrated away, a changed one stays, however much is averaged', () => {
	const leak = { size: -30, delay: 4e-10 };
	const leaking = calibratedWith({ leakage: leak });
	const steady = pictureOf(leaking);
	expect(furthest(steady.expected, steady.truth)).toBeLessThan(1e-7);
	const changed = {
		...leaking,
		setup: { ...leaking.setup, receiver: { ...quiet.receiver, leakage: { ...leak, size: -29 } } }
	};
	const moved = pictureOf(changed);
	const error = magnitude(subtract(at(moved.expected, 10), at(moved.truth, 10)));
	const change = 10 ** (-29 / 20) - 10 ** (-30 / 20);
	// behind the 20 dB pad: divided by |e10e01| of about 0.0095, within what e11 of some hundredths adds
	expect(error / (change / 10 ** (-40.8 / 20))).toBeGreaterThan(0.9);
	expect(error / (change / 10 ** (-40.8 / 20))).toBeLessThan(1.1);
	const longer = pictureOf(after(changed, command('set averages', { averages: 400 })));
	expect(furthest(longer.displayed, moved.expected)).toBeLessThan(1e-6);
});

test('compression bends a strong reading and leaves a weak one', () => {
	const bare = { ...QUIET, parts: [], processing: { ...quiet.processing, calibration: null } };
	const at1dB = { ...quiet.receiver, compression: 10 };
	const read = (receiver: Setup['receiver'], level: number) =>
		pictureOf(
			after(
				benchWith({ ...bare, receiver, source: { ...quiet.source, level } }),
				command('choose device', { device: 'open' })
			)
		).expected;
	const [full, bent] = [read(quiet.receiver, 10), read(at1dB, 10)];
	// the law by its data sheet: 1 dB lost at a test wave of 10 dBm, which is 10 dBm times |m|² here
	const m = magnitude(at(full, 10));
	const lost = 20 * Math.log10(m / magnitude(at(bent, 10)));
	expect(lost).toBeCloseTo(10 * Math.log10(1 + (10 ** 0.1 - 1) * m * m), 9);
	expect(lost).toBeGreaterThan(0.8);
	expect(furthest(read(quiet.receiver, -40), read(at1dB, -40))).toBeLessThan(1e-5);
});

// physics.md gives the variance of a reading as (N_test + |m|²·N_ref)/P. By hand for |m| near 1 (an open at the port): two
// equal noises make it √2 wider, and a match does not feel the second. 4000 readings: a ratio of deviations is within 5 %
// (over 4 deviations of 1/√8000 each).
test('the noise of the reference receiver counts where much comes back', () => {
	const spread = (device: string, referenceFloor: number | null): number =>
		pictureOf(
			after(
				benchWith({
					...QUIET,
					sweep: few,
					parts: [],
					receiver: { ...quiet.receiver, floor: -100, referenceFloor },
					port: { ...quiet.port, tracking: { size: 0, delay: 0 }, directivity: { size: -120, delay: 0 } },
					processing: { ...quiet.processing, calibration: null }
				}),
				command('choose device', { device }),
				command('set averages', { averages: 4000 })
			)
		).markers[1].reading.spreadAverage!;
	expect(Math.abs(spread('open', -100) / spread('open', null) - Math.SQRT2)).toBeLessThan(0.2);
	expect(spread('50 ohm load', -100) / spread('50 ohm load', null)).toBeCloseTo(1, 3);
});

test('flaws are set by commands, each of them alone', () => {
	const flawed = after(
		benchWith({}),
		command('set source flaws', { error: '-1.5 dB' }),
		command('set source flaws', { stuck: '-10 dBm' }),
		command('set receiver flaws', { leakage: { size: '-60 dB', delay: '300 ps' }, compression: '5 dBm' })
	).setup;
	expect(flawed.source).toMatchObject({ error: -1.5, flatness: 0, stuck: -10 });
	expect(flawed.receiver).toMatchObject({
		leakage: { size: -60, delay: 3e-10 },
		compression: 5,
		referenceFloor: null
	});
});
