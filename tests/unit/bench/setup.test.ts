import { expect, test } from 'vitest';
import { z } from 'zod';
import { Fault } from '#lib/fault.ts';
import { checkSetup } from '#lib/bench/command.ts';
import type { CircuitDevice } from '#lib/bench/device-schema.ts';
import { defaultBench } from '#lib/bench/default-bench.ts';
import { deviceCatalogue } from '#lib/bench/device-catalogue.ts';
import { newPart, partKinds } from '#lib/bench/part-catalogue.ts';
import { setup as schema } from '#lib/bench/setup.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { benchWith, blackBoxBench, pictureOf } from './examples.ts';

const { setup } = blackBoxBench;

test('the usual bench, every device and every new part are valid', () => {
	expect(() => checkSetup(defaultBench.setup)).not.toThrow();
	for (const { device } of deviceCatalogue) expect(() => checkSetup({ ...setup, device })).not.toThrow();
	for (const kind of partKinds)
		expect(() => checkSetup({ ...setup, parts: [newPart(kind, [])] })).not.toThrow();
	expect(() => checkSetup({ ...setup, parts: [] })).not.toThrow();
});

test('written out and read again it is the same setup', () => {
	const written = z.encode(schema, setup);
	expect(written.source.level).toBe('-20 dBm');
	expect(z.decode(schema, JSON.parse(JSON.stringify(written)))).toEqual(setup);
});

const JUNCTION = { element: 'Q1', port: 'base-emitter', reverseVoltage: 4, current: null };

type Path = readonly (string | number)[];

/** The setup as data with another value at `path`. */
function altered(path: Path, value: unknown): Setup {
	const copy = structuredClone(setup) as unknown as Record<string | number, unknown>;
	const last = path[path.length - 1];
	const holder = path.slice(0, -1).reduce((inner, key) => inner[key] as typeof copy, copy);
	if (value === undefined) Reflect.deleteProperty(holder, last);
	else holder[last] = value;
	return copy as unknown as Setup;
}

const [pad] = setup.parts;
const rising = (count: number): number[] => Array.from({ length: count }, (_, i) => i);

test.each<[string, (device: CircuitDevice) => CircuitDevice, string, RegExp]>([
	[
		'a limit of no element',
		(d) => ({ ...d, limits: { ...d.limits, junctions: [{ ...JUNCTION, element: 'Q9' }] } }),
		'device.limits.junctions[item 1].element',
		/Q1/
	],
	[
		'a limit of no junction',
		(d) => ({ ...d, limits: { ...d.limits, junctions: [{ ...JUNCTION, port: 'base emitter' }] } }),
		'device.limits.junctions[item 1].port',
		/base-emitter, base-collector/
	],
	[
		'an input power that meets nothing',
		(d) => ({ ...d, limits: { ...d.limits, inputPowerIn: { switch: 'path', positions: ['sideways'] } } }),
		'device.limits.inputPowerIn',
		/switch/
	],
	[
		'a switch it has not',
		(d) => ({ ...d, positions: { colour: 'red' } }),
		'device.positions.colour',
		/supply, path/
	],
	[
		'a position it has not',
		(d) => ({ ...d, positions: { path: 'red' } }),
		'device.positions.path',
		/transmitting/
	],
	[
		'a transmitter without a port',
		(d) => ({ ...d, transmitter: d.transmitter && { ...d.transmitter, port: 'sky' } }),
		'device.transmitter.port',
		/port/
	],
	['a ceiling for any change', (d) => ({ ...d, ceilingChange: 2 }), 'device.ceilingChange', /0\.5/]
])('a front end with %s is refused with its path and what is allowed', (_, change, place, allowed) => {
	const { device } = defaultBench.setup;
	if (device.kind !== 'circuit') return expect.unreachable();
	try {
		checkSetup({ ...defaultBench.setup, device: change(device) });
	} catch (fault) {
		if (!(fault instanceof Fault)) throw fault;
		expect(fault.place).toBe(place);
		expect(`${fault.finding} ${fault.remedy}`).toMatch(allowed);
		return;
	}
	expect.unreachable();
});

test.each<[string, Path, unknown, string, RegExp]>([
	['no points', ['sweep', 'points'], 0, 'sweep.points', /from 1 to 100000/],
	['100001 points', ['sweep', 'points'], 100001, 'sweep.points', /from 1 to 100000/],
	['half a point', ['sweep', 'points'], 1.5, 'sweep.points', /whole number/],
	['points in words', ['sweep', 'points'], 'many', 'sweep.points', /whole number/],
	['a stop below the start', ['sweep', 'stop'], 1e6, 'sweep.stop', /not below the start/],
	['many points at one frequency', ['sweep', 'stop'], setup.sweep.start, 'sweep.points', /one point/],
	['a start at zero', ['sweep', 'start'], 0, 'sweep.start', /from 1 kHz to 20 GHz/],
	['a level that is no number', ['source', 'level'], NaN, 'source.level', /dBm/],
	['a level without end', ['source', 'level'], Infinity, 'source.level', /dBm/],
	['a level below the source', ['source', 'level'], -61, 'source.level', /range of this source/],
	['a level above the source', ['source', 'level'], 11, 'source.level', /range of this source/],
	['a bandwidth of nothing', ['receiver', 'bandwidth'], 0, 'receiver.bandwidth', /1 Hz to 1 MHz/],
	['a negative loss', ['parts', 0, 'attenuation'], -1, 'parts[item 1].attenuation', /0 dB to 80 dB/],
	['a negative length', ['parts', 1, 'length'], -1, 'parts[item 2].length', /0 m to 200 m/],
	[
		'a velocity above that of light',
		['parts', 1, 'velocityFactor'],
		1.1,
		'parts[item 2].velocityFactor',
		/0\.3 to 1/
	],
	[
		'a cable losing less at higher frequency',
		['parts', 1, 'loss', 1, 'loss'],
		0.1,
		'parts[item 2].loss',
		/./
	],
	['a cable with one loss', ['parts', 1, 'loss'], [], 'parts[item 2].loss', /two frequencies/],
	['an adapter without sections', ['parts', 2, 'sections'], [], 'parts[item 3].sections', /at least one/],
	['an unknown part', ['parts', 0, 'kind'], 'amplifier', 'parts[item 1].kind', /pad, cable or adapter/],
	['a part that is none', ['parts', 0], 5, 'parts[item 1]', /pad, cable or adapter/],
	['two parts of one name', ['parts', 1], pad, 'parts[item 2].id', /an id of its own/],
	['thirteen parts', ['parts'], rising(13).map((i) => ({ ...pad, id: `pad-${i}` })), 'parts', /at most 12/],
	['a part name in capitals', ['parts', 0, 'id'], 'Pad', 'parts[item 1].id', /lower case/],
	['two devices', ['device'], [setup.device, setup.device], 'device', /one device/],
	['no device', ['device'], undefined, 'device', /one device/],
	['an unknown device', ['device', 'kind'], 'antenna', 'device.kind', /tabulated, impedance, open or short/],
	['a device of three ports', ['device', 'data', 'ports'], 3, 'device.data.ports', /1 or 2/],
	['a device with numbers missing', ['device', 'data', 's'], [1, 2], 'device.data.s', /every parameter/],
	[
		'a device without frequencies',
		['device', 'data'],
		{ ports: 1, frequencies: [], s: [] },
		'device.data.frequencies',
		/at least one/
	],
	[
		'a device with an infinite number',
		['device', 'data', 's', 7],
		Infinity,
		'device.data.s[item 8]',
		/finite/
	],
	['falling frequencies', ['device', 'data', 'frequencies', 3], 1, 'device.data.frequencies', /rise/],
	['a negative resistance', ['output', 'resistance'], -1, 'output.resistance', /0 Ω to 1 MΩ/],
	['no averages', ['processing', 'averages'], 0, 'processing.averages', /from 1 to 10000/],
	['a calibration by number', ['processing', 'calibration'], 5, 'processing.calibration', /calibration-1/],
	['a seed below zero', ['seed'], -1, 'seed', /from 0 to 4294967295/],
	['an empty name', ['name'], '', 'name', /at least one character/],
	['a name without end', ['name'], 'x'.repeat(81), 'name', /at most 80/],
	['a setting that does not exist', ['source', 'colour'], 'red', 'source', /Remove it/],
	['a setting missing', ['receiver', 'floor'], undefined, 'receiver.floor', /dBm\/Hz/],
	['a group missing', ['port'], undefined, 'port', /group of settings/],
	['a number for a group', ['port'], 5, 'port', /group of settings/]
])('%s is refused with its path and what is allowed', (_, path, value, place, allowed) => {
	try {
		checkSetup(altered(path, value));
		expect.unreachable();
	} catch (fault) {
		if (!(fault instanceof Fault)) throw fault;
		expect(fault).toMatchObject({ code: 'setup-value', place });
		expect(fault.remedy).toMatch(allowed);
		expect(fault.message).not.toMatch(/Invalid input|expected|undefined/);
		expect(fault.message.length).toBeLessThan(400);
	}
});

test('the schema is published as JSON Schema', () => {
	const json = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as {
		properties: Record<string, { properties: Record<string, { type: string; description: string }> }>;
		additionalProperties: boolean;
	};
	expect(json.additionalProperties).toBe(false);
	expect(Object.keys(json.properties).sort()).toEqual(Object.keys(setup).sort());
	expect(json.properties.source.properties.level).toMatchObject({
		type: 'string',
		description: 'Written with its unit: a level from -120 dBm to 30 dBm.'
	});
});

test('one point is a whole picture: a single frequency, three equal markers, a cloud', () => {
	const one = benchWith({ sweep: { start: 169.5e6, stop: 169.5e6, points: 1 } });
	expect(() => checkSetup(one.setup)).not.toThrow();
	const picture = pictureOf(one);
	expect([...picture.frequencies]).toEqual([169.5e6]);
	const [low, centre, high] = picture.markers;
	expect(low.reading.frequency).toBe(169.5e6);
	expect({ ...high.reading, place: 'low' }).toEqual(low.reading);
	expect(centre.reading.gamma).toEqual({ re: picture.displayed.re[0], im: picture.displayed.im[0] });
	expect(centre.reading.cloud.re).toHaveLength(64);
	expect(centre.reading.region?.semiMajor).toBeGreaterThan(0);
	expect(centre.levels.outgoing).toHaveLength(4);
});
