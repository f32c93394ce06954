import { expect, test } from 'vitest';
import { execute } from '#lib/bench/command.ts';
import type { CommandRecord } from '#lib/bench/command.ts';
import { commands } from '#lib/bench/commands.ts';
import { damageOf } from '#lib/bench/damage.ts';
import type { CircuitDevice } from '#lib/bench/device-schema.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import type { Pad } from '#lib/bench/part-schema.ts';
import { BenchSession } from '#lib/bench/session.ts';
import { level } from '#lib/view/numbers.ts';
import * as give from '#lib/view/tray/commands.ts';
import { deviceLines, reflectometerLines } from '#lib/view/tray/data-sheet.ts';
import { addedAfter, kinds, kindsMatching } from '#lib/view/tray/kinds.ts';
import { averagesAt, averagesPosition, bandwidths, ticksBetween } from '#lib/view/tray/scales.ts';

/** The setup after one command on the usual bench; the bench itself refuses what it does not understand. */
const after = (command: CommandRecord) => execute(defaultBench, command, commands).document.setup;
const { setup } = defaultBench;
const pad = setup.parts[0] as Pad;

test('every command of the tray is understood by the bench and does what it says', () => {
	expect(after(give.setLevel(-31.5)).source.level).toBe(-31.5);
	expect(after(give.setBandwidth(3000)).receiver.bandwidth).toBe(3000);
	expect(after(give.setAverages(256)).processing.averages).toBe(256);
	expect(after(give.setStart(169e6)).sweep.start).toBe(169e6);
	expect(after(give.setStop(170e6)).sweep.stop).toBe(170e6);
	expect(after(give.setPoints(51)).sweep.points).toBe(51);
	expect(after(give.setSeed(7)).seed).toBe(7);
	expect(after(give.setDelay(-4.1e-11)).processing.extension.delay).toBe(-4.1e-11);
	expect(after(give.setLoss(0.05)).processing.extension.loss).toBe(0.05);
	const byDataSheet = execute(defaultBench, give.chooseDevice('preamp by data sheet'), commands).document;
	const ceiling = (level: number | null) =>
		execute(byDataSheet, give.setCeiling(level), commands).document.setup.device;
	expect(ceiling(-40)).toMatchObject({ ceiling: -40 });
	expect(ceiling(null)).toMatchObject({ ceiling: null });
	expect(after(give.setCeilingChange(0.02)).device).toMatchObject({ ceilingChange: 0.02 });
	expect(after(give.setSwitch('supply', 'off')).device).toMatchObject({ positions: { supply: 'off' } });
	expect(after(give.chooseDevice('open')).device.kind).toBe('open');
	expect(after(give.setDevice({ resistance: 25, reactance: -10 })).device).toMatchObject({ reactance: -10 });
	expect(after(give.setOutput('short')).output).toEqual({ kind: 'short' });
	expect(after(give.setOutput({ resistance: 75, reactance: 5 })).output).toMatchObject({
		resistance: 75,
		reactance: 5
	});
	expect(after(give.useCalibration(null)).processing.calibration).toBeNull();
	expect(after(give.calibrate(1, 16)).processing.calibration).not.toBe(setup.processing.calibration);
});

test('a broken part is renewed, and only a broken one', () => {
	const session = new BenchSession();
	session.run(give.setSwitch('path', 'transmitting'));
	session.picture();
	expect(damageOf(session.document.history.events).map(({ part }) => part)).toEqual(['pad', 'reflectometer']);
	session.run(give.renewPart('pad'));
	expect(damageOf(session.document.history.events).map(({ part }) => part)).toEqual(['reflectometer']);
	expect(() => session.run(give.renewPart('pad'))).toThrow(/pad/);
});

test('the data sheet of a device in words, with what is worked out at the marker', () => {
	const marker = new BenchSession().picture().markers[1];
	const { inputPower } = (setup.device as CircuitDevice).limits;
	const lines = Object.fromEntries(
		deviceLines(setup.device, marker).map(({ what, value }) => [what.replace(/\u00a0/g, ' '), value])
	);
	expect(lines).toMatchObject({
		'Input at most': `${inputPower}\u00a0dBm, with path in receive`,
		'Q1, base-emitter': '5.5\u00a0V in reverse, 90\u00a0mA peak',
		Transmitter: '40\u00a0dBm, 10\u00a0W',
		'Ceiling at 169.525 MHz': level(marker.levels.ceiling?.at(-1) ?? NaN, 1),
		'Breaks at': level(marker.drive?.breaking ?? NaN, 1)
	});
	expect(deviceLines({ kind: 'open', name: 'Open' }, marker)).toEqual([]);
	expect(reflectometerLines(setup).map(({ value }) => value)).toContain(
		'second \u221235\u00a0dB, third \u221245\u00a0dB'
	);
});

test('what breaks a device is not told beyond what is known', () => {
	const picture = new BenchSession().picture().markers[1];
	const device = setup.device as CircuitDevice;
	const breaks = (limits: CircuitDevice['limits'], followed = true) => {
		const drive = picture.drive && { ...picture.drive, breaking: null, followed };
		const line = deviceLines({ ...device, limits }, { ...picture, drive }).find(
			({ what }) => what === 'Breaks at'
		);
		return line?.value.replace(/\u00a0/g, ' ');
	};
	const last = level(picture.drive?.levels.at(-1) ?? NaN, 1).replace(/\u00a0/g, ' ');
	expect(breaks({ inputPower: null, junctions: [] })).toBe('not known: no data sheet');
	const elsewhere = { switch: 'path', positions: ['bypass'] };
	expect(breaks({ inputPower: 10, inputPowerIn: elsewhere, junctions: [] })).toBe(
		'not known in this position'
	);
	expect(breaks(device.limits)).toBe(`no level up to ${last}`);
	expect(breaks(device.limits, false)).toBe(`no level up to ${last}; not known above`);
});

test('settings of parts reach the part', () => {
	expect(after(give.setPart('pad', 'attenuation')(30)).parts[0]).toMatchObject({ attenuation: 30 });
	expect(after(give.setPart('pad', 'powerRating')(2)).parts[0]).toMatchObject({ powerRating: 2 });
	expect(after(give.setNetwork('pad', 'tee')).parts[0]).toMatchObject({ network: 'tee' });
	expect(after(give.setResistorError(pad, 1)(0.02)).parts[0]).toMatchObject({
		resistorErrors: [pad.resistorErrors[0], 0.02, pad.resistorErrors[2]]
	});
	expect(after(give.setPart('cable', 'length')(2.5)).parts[1]).toMatchObject({ length: 2.5 });
	expect(after(give.setPart('cable', 'velocityFactor')(0.66)).parts[1]).toMatchObject({
		velocityFactor: 0.66
	});
	expect(after(give.setPart('adapter', 'impedance')(48)).parts[2]).toMatchObject({
		sections: [{ impedance: 48 }]
	});
});

test('parts are added at the plane that was pressed, swapped and removed', () => {
	expect(after(give.addPart('cable', addedAfter(setup, 0))).parts.map((p) => p.kind)[0]).toBe('cable');
	expect(after(give.addPart('pad', addedAfter(setup, 3))).parts.map((p) => p.kind)).toEqual([
		'pad',
		'cable',
		'adapter',
		'pad'
	]);
	expect(after(give.replacePart('cable', 'adapter')).parts.map((p) => p.kind)).toEqual([
		'pad',
		'adapter',
		'adapter'
	]);
	expect(after(give.removePart('pad')).parts.map((p) => p.kind)).toEqual(['cable', 'adapter']);
});

test('the list of parts is searched by all the words typed', () => {
	expect(kindsMatching('').length).toBe(kinds.length);
	expect(kindsMatching('ATTEN').map((k) => k.kind)).toEqual(['pad']);
	expect(kindsMatching('line short').map((k) => k.kind)).toEqual(['adapter']);
	expect(kindsMatching('kettle')).toEqual([]);
});

test.each([
	[0, 40, [0, 10, 20, 30, 40]],
	[-60, 10, [-60, -40, -20, 0]],
	[-500, 500, [-400, -200, 0, 200, 400]]
])('a scale from %d to %d has few round ticks', (from, to, places) => {
	expect(ticksBetween(from, to).map((tick) => tick.at)).toEqual(places);
});

test('ticks are written with a true minus', () => {
	expect(ticksBetween(-60, 10)[0].text).toBe('\u221260');
});

test('averages and their place on the slider are each other’s inverse', () => {
	for (let position = 0; position <= 10; position++)
		expect(averagesPosition(averagesAt(position))).toBe(position);
	expect(averagesAt(10)).toBe(1024);
	expect(bandwidths.every((b, i) => i === 0 || b > bandwidths[i - 1])).toBe(true);
});
