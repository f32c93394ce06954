import { expect, test } from 'vitest';
import { Fault } from '#lib/fault.ts';
import { observables, readObservable } from '#lib/bench/observables.ts';
import type { BenchState } from '#lib/bench/observables.ts';
import type { BenchDocument } from '#lib/bench/command.ts';
import { blackBoxBench, after, benchWith, command, pictureOf, QUIET } from './examples.ts';

const stateOf = (document: BenchDocument, revealed = false): BenchState => ({
	...document,
	picture: pictureOf(document),
	revealed
});

const usual = stateOf(blackBoxBench);
const frequency = 169.525e6;

test('everything on the list can be read, and is what it says it is', () => {
	const wanted = { boolean: 'boolean', text: 'string' } as Readonly<Record<string, string>>;
	for (const [name, observable] of observables) {
		// a switch only a front end has: see front-end.test.ts
		if (name === 'device.switch') continue;
		const value = readObservable(usual, name, observable.arguments.length > 0 ? [frequency] : []);
		expect(typeof value, name).toBe(wanted[observable.kind] ?? 'number');
		if (typeof value === 'number') expect(value, name).not.toBeNaN();
		expect(observable.meaning, name).toMatch(/^[A-Z0-9t].*\.$/);
	}
});

// A 25 + j50 Ω load calibrated at its own connector, no noise to speak of. By hand in 50 Ω: Γ = (−25 + j50)/(75 + j50)
// = (625 + j5000)/8125 = 0.0769231 + j0.6153846, |Γ| = 0.6201737, return loss 4.1497 dB, SWR 4.2656.
const load = after(
	benchWith(QUIET),
	command('choose device', { device: 'inductive load' }),
	command('calibrate', { plane: 3, averages: 10_000 }),
	command('set extension', { delay: '0 ps' })
);
const quiet = stateOf(load, true);

test.each(['displayed', 'expected', 'truth'])('%s values agree with arithmetic by hand', (source) => {
	const read = (what: string): number => readObservable(quiet, `${source}.${what}`, [frequency]) as number;
	expect(read('R')).toBeCloseTo(25, 4);
	expect(read('X')).toBeCloseTo(50, 4);
	expect(read('gammaReal')).toBeCloseTo(625 / 8125, 6);
	expect(read('gammaImaginary')).toBeCloseTo(5000 / 8125, 6);
	expect(read('gamma')).toBeCloseTo(0.6201737, 6);
	expect(read('returnLoss')).toBeCloseTo(4.1497, 4);
	expect(read('swr')).toBeCloseTo(4.2656, 4);
});

test('levels, margins and settings agree with arithmetic by hand', () => {
	const read = (name: string): number | boolean | string => readObservable(usual, name, []);
	expect(read('level.set')).toBe(-20);
	// 20 dB of pad and 0.2 dB of cable before the device
	expect(read('level.device')).toBeCloseTo(-40.2, 1);
	expect(read('margin.ceiling')).toBeCloseTo(5.2, 1);
	expect(read('level.deviceVolts')).toBeCloseTo(
		Math.sqrt(50 * 1e-3 * 10 ** ((read('level.device') as number) / 10)),
		9
	);
	// −120 dBm/Hz in 300 Hz, less 64 averages
	expect(read('level.floorSingle')).toBeCloseTo(-120 + 24.771, 3);
	expect(read('level.floor')).toBeCloseTo(-120 + 24.771 - 18.062, 3);
	// the echo's own way back: what the pad reflects at its input is not the device's
	const back = (read('level.floor') as number) + 20.2 - 0.002;
	expect(read('margin.floor')).toBeCloseTo((read('level.echo') as number) - back, 1);
	expect(read('pad.attenuation')).toBe(20);
	expect(read('bandwidth')).toBe(300);
	expect(read('averages.set')).toBe(64);
	expect(read('averages.effective')).toBeCloseTo(64, 9);
	expect(read('spread.single')).toBeGreaterThan(read('spread.gamma') as number);
	// √64, less what is not known of the scatter from 64 readings: χ² 5.9915 against 2·63/62·F(2, 62) with F = 3.1453 (F table)
	const hotelling = ((2 * 63) / 62) * 3.1453;
	expect((read('spread.single') as number) / (read('spread.gamma') as number)).toBeCloseTo(
		8 * Math.sqrt(5.9915 / hotelling),
		3
	);
	expect(read('calibration.made')).toBe(true);
	expect(read('calibration.count')).toBe(1);
	expect(read('calibration.averages')).toBe(64);
	expect(read('calibration.plane')).toBe(2);
	expect(read('plane.extension')).toBe(41e-12);
	expect([read('frequency.low'), read('frequency.centre'), read('frequency.high')]).toEqual([
		169.4e6, 169.525e6, 169.65e6
	]);
	expect(read('device.name')).toBe('Preamp by data sheet');
	expect(read('device.kind')).toBe('tabulated');
	expect(read('truth.revealed')).toBe(false);
	expect(readObservable(quiet, 'truth.revealed', [])).toBe(true);
});

test('the echo at the device is the outgoing level less its return loss', () => {
	const read = (name: string, args: number[] = []): number => readObservable(quiet, name, args) as number;
	expect(read('level.device') - read('level.echo')).toBeCloseTo(read('truth.returnLoss', [frequency]), 9);
	expect(read('level.echo') - read('level.receiver')).toBeCloseTo(20.2, 1);
	expect(read('level.set') - read('level.source')).toBeCloseTo(0, 2);
});

test('without pads, ceiling or calibration there are plain answers', () => {
	const bare = stateOf(
		after(
			blackBoxBench,
			command('remove part', { part: 'pad' }),
			command('choose device', { device: 'open' }),
			command('use calibration', { calibration: null }),
			command('set averages', { averages: 1 })
		)
	);
	const read = (name: string, args: number[] = []): unknown => readObservable(bare, name, args);
	expect(read('pad.attenuation')).toBe(0);
	expect(read('margin.ceiling')).toBe(Infinity);
	expect(read('spread.gamma')).toBe(Infinity);
	expect(read('calibration.made')).toBe(false);
	expect(read('calibration.averages')).toBe(0);
	expect(read('calibration.plane')).toBe(-1);
	expect(read('truth.returnLoss', [frequency])).toBeCloseTo(0, 12);
	expect(read('truth.swr', [frequency])).toBe(Infinity);
});

test('between two points Γ is on the straight line between them', () => {
	const { frequencies, displayed } = usual.picture;
	const between = frequencies[10] + 0.25 * (frequencies[11] - frequencies[10]);
	const wanted = displayed.re[10] + 0.25 * (displayed.re[11] - displayed.re[10]);
	expect(readObservable(usual, 'displayed.gammaReal', [between])).toBeCloseTo(wanted, 9);
	expect(readObservable(usual, 'displayed.gammaReal', [169.4e6])).toBe(displayed.re[0]);
	expect(readObservable(usual, 'displayed.gammaReal', [169.65e6 + 1e-3])).toBe(displayed.re[200]);
});

test.each<[string, string, (number | string | boolean)[], string]>([
	['an unknown name', 'displayed.Q', [frequency], 'observable-unknown'],
	['a name every object has', 'constructor', [], 'observable-unknown'],
	['no frequency', 'displayed.R', [], 'observable-argument'],
	['two frequencies', 'displayed.R', [frequency, frequency], 'observable-argument'],
	['an argument too many', 'level.set', [1], 'observable-argument'],
	['a frequency below the sweep', 'displayed.R', [169.3e6], 'observable-argument'],
	['a frequency above the sweep', 'displayed.R', [169.7e6], 'observable-argument'],
	['megahertz taken for hertz', 'displayed.R', [169.5], 'observable-argument'],
	['a frequency that is none', 'displayed.R', [NaN], 'observable-argument'],
	['text', 'displayed.R', ['169.5 MHz'], 'observable-argument'],
	['yes', 'displayed.R', [true], 'observable-argument']
])('%s is refused', (_, name, args, code) => {
	try {
		readObservable(usual, name, args);
		expect.unreachable();
	} catch (fault) {
		if (!(fault instanceof Fault)) throw fault;
		expect(fault).toMatchObject({ code, place: `observable "${name}"` });
		expect(fault.remedy).toMatch(/^(Ask|Give|Use one of).*\.$/);
	}
});
