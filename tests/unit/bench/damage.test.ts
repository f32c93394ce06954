import { expect, test } from 'vitest';
import { magnitude, subtract, at } from '#lib/numeric/complex.ts';
import { calibrations } from '#lib/bench/calibrations.ts';
import { asItStands, concerns, damageOf } from '#lib/bench/damage.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { withDamage } from '#lib/bench/history.ts';
import { readObservable } from '#lib/bench/observables.ts';
import { BenchSession } from '#lib/bench/session.ts';
import { Simulation } from '#lib/bench/simulation.ts';
import { transmission } from '#lib/bench/transmit.ts';
import { EMPTY_UNDO, remember, undo } from '#lib/bench/undo.ts';
import { execute } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { after, blackBoxBench, command, pictureOf, requestFor } from './examples.ts';

const FEW = command('set sweep', { points: 11 });
const quick = after(defaultBench, FEW);
const noPad = after(quick, command('remove part', { part: 'pad' }));
const LOUD = command('set level', { level: '10 dBm' });
const KEYED = command('set switch', { switch: 'path', position: 'transmitting' });

test('a level past an absolute maximum breaks the front end, at the first frequency of the sweep, and only then', () => {
	const almost = pictureOf(after(noPad, command('set level', { level: '4 dBm' })));
	expect(almost.damage).toBeNull();
	const over = pictureOf(after(noPad, LOUD));
	expect(over.damage).toMatchObject({
		part: 'device',
		name: 'Mast preamp',
		element: 'Q1',
		crossed: { quantity: 'input power', limit: 5 },
		frequency: 169.4e6,
		cause: 'source'
	});
	// 10 dBm less 0.2 dB of cable, but for what the source sends back once more: −24 dB of what comes back, at most 0.1 dB
	expect(Math.abs((over.damage?.crossed.reached ?? 0) - 9.8)).toBeLessThan(0.1);
	// what breaks ends the run: the readings after it are those of another bench
	expect(over.sweepsTaken).toBe(1);
});

test('with the path thrown to the transmitter the level goes past the preamp and breaks nothing', () => {
	const thrown = after(noPad, command('set switch', { switch: 'path', position: 'transmit' }), LOUD);
	const picture = pictureOf(thrown);
	expect(picture.damage).toBeNull();
	expect(picture.markers[1].levels.breaking).toBeNull();
	// the silent transmitter is a 50 Ω end
	expect(magnitude(at(picture.driven, 5))).toBeLessThan(0.01);
});

test('where no state is found, a level past the input power breaks the front end all the same', () => {
	const tag = after(
		noPad,
		command('set level', { level: '-60 dBm' }),
		command('choose device', { device: 'varactor tag' }),
		command('set sweep', { start: '100 MHz', stop: '100 MHz', points: 1 })
	);
	for (const level of [18, 20, 25, 30]) {
		const source = { ...tag.setup.source, level, highest: 30 };
		const parts = tag.setup.parts.slice(0, 0);
		const { damage } = pictureOf({ ...tag, setup: { ...tag.setup, source, parts } });
		expect(damage?.crossed, `${level} dBm`).toMatchObject({ quantity: 'input power', limit: 10 });
	}
});

// By hand: a matched 20 dB pad under 10 dBm (10 mW) burns 99 % of it.
test('a pad burns under the source too, if it is rated for less than it gets', () => {
	const small = after(quick, command('set part', { part: 'pad', powerRating: '5 mW' }), LOUD);
	const { damage } = pictureOf(small);
	expect(damage).toMatchObject({
		part: 'pad',
		cause: 'source',
		crossed: { quantity: 'dissipation', limit: 0.005 }
	});
	expect(damage?.crossed.reached).toBeCloseTo(0.0099, 4);
	expect(
		pictureOf(after(small, command('set part', { part: 'pad', powerRating: '10 mW' }))).damage
	).toBeNull();
});

test('what is broken stays broken: through quieter levels and Undo, until the part is renewed', () => {
	const session = new BenchSession(noPad);
	session.run(command('set level', { level: '-40 dBm' }));
	const whole = session.picture();
	session.run(LOUD);
	session.picture();
	expect(session.read('damage.count')).toBe(1);
	session.run(command('set level', { level: '-40 dBm' }));
	const broken = session.picture();
	expect(broken.damage).toBeNull();
	const moved = magnitude(subtract(at(broken.truth, 5), at(whole.truth, 5)));
	expect(moved).toBeGreaterThan(0.05);
	expect(session.read('damage.standing')).toBe(1);
	// gain has gone down with it
	expect(session.read('gain.rest') as number).toBeLessThan(17);
	// the damage is an event of the history, which Undo does not touch
	const outcome = execute(session.document, command('set level', { level: '-39 dBm' }), commands);
	const back = undo(remember(EMPTY_UNDO, outcome), outcome.document.setup);
	expect(damageOf(outcome.document.history.events)).toHaveLength(1);
	expect(back.setup).toEqual(session.document.setup);
	session.run(command('renew part', { part: 'device' }));
	expect(session.picture().truth).toEqual(whole.truth);
	expect(session.read('damage.standing')).toBe(0);
	expect(session.read('damage.count')).toBe(1);
	expect(() => session.run(command('renew part', { part: 'device' }))).toThrow(/not broken/);
});

test('another device is whole, and the broken one is still broken when it comes back', () => {
	const session = new BenchSession(after(noPad, LOUD));
	session.picture();
	session.run(command('set level', { level: '-40 dBm' }));
	session.run(command('choose device', { device: 'cascode' }));
	expect(session.read('damage.standing')).toBe(0);
	session.run(command('choose device', { device: 'mast preamp' }));
	expect(session.read('damage.standing')).toBe(1);
});

test('a black box that is broken has no reading, for what it presents is not known', () => {
	const session = new BenchSession(
		after(
			blackBoxBench,
			FEW,
			command('remove part', { part: 'pad' }),
			command('set ceiling', { ceiling: null })
		)
	);
	// its absolute maximum is 10 dBm, which a source of 10 dBm does not pass through 0.2 dB of cable
	session.run(LOUD);
	expect(session.picture().damage).toBeNull();
	const louder = {
		...session.document.setup,
		source: { ...session.document.setup.source, level: 11, highest: 20 }
	};
	const broken = new BenchSession({ ...session.document, setup: louder });
	const picture = broken.picture();
	expect(broken.read('damage.count')).toBe(1);
	expect(picture.silence).toEqual({ kind: 'broken' });
	expect([...picture.displayed.re, ...picture.expected.im].every(Number.isNaN)).toBe(true);
	expect(picture.markers[1].reading.region).toBeNull();
	expect(picture.markers[1].levels.outgoing[0]).toBeCloseTo(11, 1);
});

// By hand: 40 dBm into a matched 20 dB pad. 99 % of 10 W stays in it (physics of a matched attenuator: 1 − 10^(−20/10)), and
// 20 dBm comes out. The cable of 0.2 dB and the adapter lie before and behind it; the relay takes 0.004 dB.
test('10 W into a 20 dB pad: the pad burns 9.9 W, then +20 dBm meets the port', () => {
	const [pad] = quick.setup.parts;
	const setup = { ...after(quick, KEYED).setup, parts: [pad] };
	const found = transmission(setup);
	expect(found?.leaving).toBeCloseTo(40, 1);
	expect(found?.burnt[0]).toBeCloseTo(9.9, 1);
	expect(found?.level).toBeCloseTo(20, 1);
	// the pad is rated 1 W: it goes first
	expect(found?.damage).toMatchObject({
		part: 'pad',
		crossed: { quantity: 'dissipation', limit: 1 },
		cause: 'transmitter'
	});
	// rated for it, the port of 17 dBm goes
	const rated = { ...setup, parts: [{ ...pad, powerRating: 20 } as typeof pad] };
	expect(transmission(rated)?.damage).toMatchObject({
		part: 'reflectometer',
		crossed: { quantity: 'input power', limit: 17 }
	});
	// and a port that stands it, nothing
	const sturdy = { ...rated, port: { ...rated.port, absoluteMaximum: 30 } };
	expect(transmission(sturdy)?.damage).toBeNull();
	expect(transmission(quick.setup)).toBeNull();
});

test('a keyed transmitter: no reading, and one thing after the other breaks', () => {
	const session = new BenchSession(after(quick, KEYED));
	const picture = session.picture();
	expect(picture.silence?.kind).toBe('transmitting');
	expect(picture.displayed.re.every(Number.isNaN)).toBe(true);
	const events = damageOf(session.document.history.events);
	expect(events.map(({ part }) => part)).toEqual(['pad', 'reflectometer']);
	// the transmitter is off again, and the bench truthfully worse
	session.run(command('set switch', { switch: 'path', position: 'receive' }));
	const worse = session.picture();
	expect(worse.silence).toBeNull();
	expect(worse.markers[1].levels.floorSingle[0]).toBeGreaterThan(
		pictureOf(quick).markers[1].levels.floorSingle[0] + 20
	);
	for (const part of ['pad', 'reflectometer']) session.run(command('renew part', { part }));
	const mended = session.picture();
	expect(mended.expected).toEqual(
		new Simulation().picture(requestFor(quick, { firstSweep: session.document.history.nextSweep })).expected
	);
});

test('a calibration is made again from the bench as it stood when it was made', () => {
	const broken = {
		...quick,
		history: withDamage(quick.history, {
			part: 'pad',
			name: 'Pad',
			element: null,
			crossed: { quantity: 'dissipation', limit: 1, reached: 9.9 },
			frequency: 169.5e6,
			cause: 'transmitter'
		})
	};
	const calibrated = after(broken, command('calibrate', { plane: 2, averages: 2 }));
	const whole = after(calibrated, command('renew part', { part: 'pad' }));
	const [before, then] = calibrations(whole.history);
	expect(before.setup.parts[0]).toEqual(quick.setup.parts[0]);
	expect(then.setup.parts[0]).not.toEqual(quick.setup.parts[0]);
	expect(then.setup.parts[0]).toEqual(asItStands(broken.setup, damageOf(broken.history.events)).parts[0]);
	// with the pad renewed, the line is no longer the one that was calibrated
	expect(pictureOf(whole).correction).toMatchObject({ lineChanged: true });
	expect(pictureOf(calibrated).correction).toMatchObject({ lineChanged: false });
});

test('nothing broken is the same setup, and damage concerns what is on the bench', () => {
	expect(asItStands(quick.setup, [])).toBe(quick.setup);
	const [event] = damageOf(
		withDamage(quick.history, {
			part: 'pad',
			name: 'Pad',
			element: null,
			crossed: { quantity: 'dissipation', limit: 1, reached: 9.9 },
			frequency: 1,
			cause: 'transmitter'
		}).events
	);
	expect(concerns(event, quick.setup)).toBe(true);
	expect(concerns(event, noPad.setup)).toBe(false);
	expect(asItStands(noPad.setup, [event])).toBe(noPad.setup);
});

test('switches are read by their name, and thrown', () => {
	const state = { ...quick, picture: pictureOf(quick), revealed: false };
	expect(readObservable(state, 'device.switch', ['supply'])).toBe('on');
	const off = after(quick, command('set switch', { switch: 'supply', position: 'off' }));
	expect(readObservable({ ...state, ...off }, 'device.switch', ['supply'])).toBe('off');
	expect(() => readObservable(state, 'device.switch', ['colour'])).toThrow(/supply, path/);
	expect(() => after(quick, command('set switch', { switch: 'colour', position: 'red' }))).toThrow(
		/supply, path/
	);
	expect(() => after(quick, command('set switch', { switch: 'supply', position: 'half' }))).toThrow(
		/on, off/
	);
	const silent = pictureOf(off);
	// without supply it gains nothing, and answers otherwise
	expect(silent.markers[1].drive?.gainDb?.[0]).toBeLessThan(0);
	expect(magnitude(subtract(at(silent.truth, 5), at(state.picture.truth, 5)))).toBeGreaterThan(0.1);
});
