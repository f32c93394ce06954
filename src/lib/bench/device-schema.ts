import { z } from 'zod';
import { devicesOf } from '#lib/circuit/device.ts';
import type { NetworkData } from '#lib/network/network-data.ts';
import { label, plainNumber, quantity } from './schema-parts.ts';
import { circuitForm } from './netlist-form.ts';
import { isName } from './netlist-parts.ts';

/** Scattering parameters as plain data; `s` a flat list, a row a frequency (see `NetworkData`). */
const networkData: z.ZodType<NetworkData, NetworkData> = z
	.strictObject({
		ports: z.union([z.literal(1), z.literal(2)], { error: 'Give 1 or 2 ports.' }),
		frequencies: z
			.array(z.number())
			.min(1, { error: 'Give at least one frequency.' })
			.max(100_000, { error: 'Give at most 100000 frequencies.' }),
		s: z.array(z.number())
	})
	.refine((d) => d.s.length === d.frequencies.length * d.ports * d.ports * 2, {
		path: ['s'],
		error: 'Give real and imaginary part of every parameter at every frequency.'
	})
	.refine((d) => d.frequencies.every((f, i) => f >= 0 && (i === 0 || f > d.frequencies[i - 1])), {
		path: ['frequencies'],
		error: 'Give frequencies in hertz that rise from one to the next.'
	});

/** A limit its owner knows, or `none`. */
const limit = z.union([z.null(), quantity('level', { from: -120, to: 60 })], {
	error: 'Give a level such as -35 dBm, or null where the data sheet says nothing.'
});

/**
 * A front end known from its small-signal data and data sheet. It answers the same at every level; what it does above
 * its ceiling is not known, so a reading taken there is marked as not valid.
 */
const tabulated = z.strictObject({
	kind: z.literal('tabulated'),
	name: label,
	/** Where the numbers come from, in the user's words (a file name, or the catalogue). */
	origin: label,
	data: networkData,
	/** The level, incident at the connector, up to which it answers as at small signal. */
	ceiling: limit,
	compression: limit,
	absoluteMaximum: limit
});

const name = z.string({ error: 'Give a name.' }).refine(isName, { error: 'Give a name of the circuit.' });
const noneOr = <S extends z.ZodType>(schema: S, error: string) => z.union([z.null(), schema], { error });

export const ceilingChange = plainNumber('the change of the reflection coefficient at the ceiling', {
	from: 0.0005,
	to: 0.5
});

const junctionLimit = z.strictObject({
	element: name,
	port: label,
	reverseVoltage: noneOr(quantity('voltage', { from: 0, to: 1e4 }), 'Give a voltage such as 4 V, or null.'),
	current: noneOr(quantity('current', { from: 0, to: 1e3 }), 'Give a current such as 20 mA, or null.')
});

/**
 * A front end whose circuit is known: what it presents follows from the circuit, at every level, until a limit of its data
 * sheet is crossed.
 */
const circuit = z
	.strictObject({
		kind: z.literal('circuit'),
		name: label,
		origin: label,
		circuit: circuitForm,
		/** Absolute maxima: incident at the connector, and of junctions at any instant. */
		limits: z.strictObject({
			inputPower: limit,
			/** Positions of a switch in which the input power meets what it can harm; any if left out. */
			inputPowerIn: z
				.strictObject({ switch: name, positions: z.array(z.string()).min(1).readonly() })
				.optional(),
			junctions: z.array(junctionLimit, { error: 'Give a list of limits.' }).max(20).readonly()
		}),
		/** What can be keyed into one of its ports, and the position of a switch in which it is. */
		transmitter: noneOr(
			z.strictObject({
				port: name,
				level: quantity('level', { from: -120, to: 60 }),
				switch: name,
				position: name
			}),
			'Give a transmitter with its port, level, switch and position, or null.'
		),
		/** The position of every switch of the circuit that is not in its usual, first one. */
		positions: z.record(z.string(), z.string(), { error: 'Give positions by the names of switches.' }),
		/** How far Γ may move from rest before the level counts as over the ceiling. */
		ceilingChange
	})
	.superRefine((value, context) => {
		const { netlist, portNames } = value.circuit;
		const refuse = (path: (string | number)[], input: unknown, message: string): void =>
			context.addIssue({ code: 'custom', path, input, message });
		const switches = netlist.switches ?? [];
		for (const [name, position] of Object.entries(value.positions)) {
			const positions = switches.find((s) => s.name === name)?.positions;
			if (positions === undefined)
				refuse(
					['positions', name],
					position,
					`Name a switch of this circuit: ${switches.map((s) => s.name).join(', ') || 'it has none'}.`
				);
			else if (!positions.includes(position))
				refuse(['positions', name], position, `Give one of: ${positions.join(', ')}.`);
		}
		const devices = devicesOf(netlist);
		value.limits.junctions.forEach(({ element, port }, k) => {
			const ports = devices.find((d) => d.name === element)?.law.ports.map((p) => p.name);
			if (ports === undefined)
				refuse(
					['limits', 'junctions', k, 'element'],
					element,
					`Name a device of this circuit: ${devices.map((d) => d.name).join(', ') || 'it has none'}.`
				);
			else if (!ports.includes(port))
				refuse(['limits', 'junctions', k, 'port'], port, `Give one of: ${ports.join(', ')}.`);
		});
		const meets = value.limits.inputPowerIn;
		const known = switches.find((s) => s.name === meets?.switch)?.positions ?? [];
		if (meets && !meets.positions.every((position) => known.includes(position)))
			refuse(
				['limits', 'inputPowerIn'],
				meets.positions.join(', '),
				'Name a switch of this circuit and its positions.'
			);
		const { transmitter } = value;
		if (transmitter === null) return;
		if (!portNames.slice(1).includes(transmitter.port))
			refuse(['transmitter', 'port'], transmitter.port, 'Name a port of this circuit other than its first.');
		if (!switches.some((s) => s.name === transmitter.switch && s.positions.includes(transmitter.position)))
			refuse(
				['transmitter', 'position'],
				transmitter.position,
				'Name a switch of this circuit and a position.'
			);
	});

/** An ideal one-port of the same impedance at every frequency. */
const impedance = z.strictObject({
	kind: z.literal('impedance'),
	name: label,
	resistance: quantity('resistance', { from: 0, to: 1e6 }),
	reactance: quantity('resistance', { from: -1e6, to: 1e6 })
});
const open = z.strictObject({ kind: z.literal('open'), name: label });
const short = z.strictObject({ kind: z.literal('short'), name: label });

/** What is at the end of the line. */
export const device = z.discriminatedUnion('kind', [circuit, tabulated, impedance, open, short], {
	error: 'Give one device of kind circuit, tabulated, impedance, open or short.'
});

/** What is at the output of a two-port device. */
export const termination = z.discriminatedUnion(
	'kind',
	[impedance.omit({ name: true }), open.omit({ name: true }), short.omit({ name: true })],
	{ error: 'Give a termination of kind impedance, open or short.' }
);

export type Device = z.output<typeof device>;
export type CircuitDevice = z.output<typeof circuit>;
export type TabulatedDevice = z.output<typeof tabulated>;
export type Termination = z.output<typeof termination>;
