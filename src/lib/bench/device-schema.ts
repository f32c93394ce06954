import { z } from 'zod';
import type { NetworkData } from '#lib/network/network-data.ts';
import { label, quantity } from './schema-parts.ts';

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
export const device = z.discriminatedUnion('kind', [tabulated, impedance, open, short], {
	error: 'Give one device of kind tabulated, impedance, open or short.'
});

/** What is at the output of a two-port device. */
export const termination = z.discriminatedUnion(
	'kind',
	[impedance.omit({ name: true }), open.omit({ name: true }), short.omit({ name: true })],
	{ error: 'Give a termination of kind impedance, open or short.' }
);

export type Device = z.output<typeof device>;
export type TabulatedDevice = z.output<typeof tabulated>;
export type Termination = z.output<typeof termination>;
