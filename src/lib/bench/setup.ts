import { z } from 'zod';
import { device, termination } from './device-schema.ts';
import { part } from './part-schema.ts';
import { identifier, label, quantity, wholeNumber } from './schema-parts.ts';

/**
 * The setup: everything a user can set on a bench, as plain immutable data. This schema is its only definition: the
 * types, the checks of files, fields and commands and the published JSON Schema all come from it. Outside (files,
 * links) quantities are text with a unit; inside they are numbers in SI units, logarithmic settings in decibels.
 */

/** A sweep of more points is refused. */
export const MOST_POINTS = 100_000;
export const MOST_PARTS = 12;
/** Frequencies that can be set, Hz. */
export const FREQUENCIES = { from: 1e3, to: 2e10 };
export const MOST_AVERAGES = 10_000;

const sweep = z
	.strictObject({
		start: quantity('frequency', FREQUENCIES),
		stop: quantity('frequency', FREQUENCIES),
		points: wholeNumber('the number of points', { from: 1, to: MOST_POINTS })
	})
	.refine((s) => s.stop >= s.start, {
		path: ['stop'],
		error: 'Give a stop frequency that is not below the start.'
	})
	.refine((s) => s.points === 1 || s.stop > s.start, {
		path: ['points'],
		error: 'Give one point for a single frequency, or a stop frequency above the start.'
	});

const harmonic = z.union([z.null(), quantity('attenuation', { from: -200, to: 0 })], {
	error: 'Give what it is against the tone, such as -40 dB, or null for none.'
});

/** What is wrong with a source, by the name of the setting. */
export const sourceFlaws = {
	/** How far the level that goes out lies from the one that is set, and by how much it ripples over the band (RMS). */
	error: quantity('attenuation', { from: -20, to: 20 }),
	flatness: quantity('attenuation', { from: 0, to: 5 }),
	/** The fault of a setting that does nothing: the level that goes out whatever is set; null for none. */
	stuck: z.union([z.null(), quantity('level', { from: -120, to: 30 })], {
		error: 'Give the level that goes out whatever is set, or null if the setting works.'
	})
};

const source = z
	.strictObject({
		level: quantity('level', { from: -120, to: 30 }),
		lowest: quantity('level', { from: -120, to: 30 }),
		highest: quantity('level', { from: -120, to: 30 }),
		/** Its second and third harmonic against the tone, dB; null for none. */
		harmonics: z.strictObject({ second: harmonic, third: harmonic }).prefault({ second: null, third: null }),
		error: sourceFlaws.error.prefault('0 dB'),
		flatness: sourceFlaws.flatness.prefault('0 dB'),
		stuck: sourceFlaws.stuck.prefault(null)
	})
	.refine((s) => s.level >= s.lowest && s.level <= s.highest, {
		path: ['level'],
		error: 'Give a level within the range of this source (lowest to highest).'
	});

/** An imperfection of the reflectometer: its size, and the delay that turns it with frequency. */
const portError = (delay: { from: number; to: number }) =>
	z.strictObject({
		size: quantity('attenuation', { from: -120, to: 6 }),
		delay: quantity('time', delay)
	});
const delays = { from: -1e-7, to: 1e-7 };

/** What is wrong with a receiver beside its noise, by the name of the setting. */
export const receiverFlaws = {
	/** Equivalent noise of the reference receiver at the test port in 1 Hz; null for one without noise. */
	referenceFloor: z.union([z.null(), quantity('noise density', { from: -174, to: -40 })], {
		error: 'Give a noise density such as -120 dBm/Hz, or null for none.'
	}),
	/** Level at the test receiver at which it shows 1 dB too little; null if it never does. */
	compression: z.union([z.null(), quantity('level', { from: -60, to: 60 })], {
		error: 'Give a level such as 10 dBm, or null for none.'
	}),
	/** What reaches the test receiver past the port; null for nothing. */
	leakage: z.union([z.null(), portError(delays)], {
		error: 'Give a leakage with its size and delay, or null for none.'
	})
};

const receiver = z.strictObject({
	/** Equivalent noise at the test port in 1 Hz. */
	floor: quantity('noise density', { from: -174, to: -40 }),
	referenceFloor: receiverFlaws.referenceFloor.prefault(null),
	compression: receiverFlaws.compression.prefault(null),
	leakage: receiverFlaws.leakage.prefault(null),
	bandwidth: quantity('frequency', { from: 1, to: 1e6 }),
	/** Multiplicative noise: standard deviations of its amplitude and phase parts in the reference bandwidth. */
	traceNoise: z.strictObject({
		amplitude: quantity('attenuation', { from: 0, to: 3 }),
		phase: quantity('angle', { from: 0, to: 1 }),
		bandwidth: quantity('frequency', { from: 1, to: 1e6 })
	})
});

/** The raw imperfections of the reflectometer's own port. */
const port = z.strictObject({
	directivity: portError(delays),
	sourceMatch: portError(delays),
	tracking: portError(delays),
	/** The level into the port that breaks it. */
	absoluteMaximum: quantity('level', { from: -60, to: 60 }).prefault('17 dBm')
});

/** Definitions of the three standards. */
const standards = z.strictObject({
	open: z.strictObject({ capacitance: quantity('capacitance', { from: 0, to: 1e-11 }) }),
	short: z.strictObject({ inductance: quantity('inductance', { from: 0, to: 1e-8 }) }),
	load: z.strictObject({
		resistance: quantity('resistance', { from: 1, to: 1000 }),
		inductance: quantity('inductance', { from: -1e-8, to: 1e-8 })
	})
});

const processing = z.strictObject({
	averages: wholeNumber('the number of averages', { from: 1, to: MOST_AVERAGES }),
	/** The calibration in use, by its name in the history; null shows uncorrected readings. */
	calibration: z.union([identifier, z.null()], {
		error: 'Give the name of a calibration such as calibration-1, or null.'
	}),
	/** Port extension from the calibration plane toward the device. */
	extension: z.strictObject({
		delay: quantity('time', { from: -1e-7, to: 1e-7 }),
		loss: quantity('attenuation', { from: -20, to: 60 })
	})
});

const setupShape = z.strictObject({
	name: label,
	seed: wholeNumber('the seed', { from: 0, to: 4294967295 }),
	sweep,
	instrument: label,
	source,
	receiver,
	port,
	standards,
	parts: z
		.array(part, { error: 'Give a list of parts, from the reflectometer to the device.' })
		.max(MOST_PARTS, { error: `Give at most ${MOST_PARTS} parts.` }),
	device,
	output: termination,
	processing
});

export const setup = setupShape.superRefine((value, context) => {
	const seen = new Set<string>();
	value.parts.forEach((p, k) => {
		if (seen.has(p.id)) {
			context.addIssue({
				code: 'custom',
				path: ['parts', k, 'id'],
				input: p.id,
				message: 'Give each part an id of its own.'
			});
		}
		seen.add(p.id);
	});
});

export type Setup = z.output<typeof setup>;
export type Sweep = Setup['sweep'];
export type Source = Setup['source'];
export type Receiver = Setup['receiver'];
export type Port = Setup['port'];
export type StandardDefinitions = Setup['standards'];
export type Processing = Setup['processing'];

/** The part of a setup that decides what a standard at plane k reads; frozen into a calibration. */
export const frozenSetup = z.strictObject({
	seed: setupShape.shape.seed,
	sweep,
	source,
	receiver,
	port,
	standards,
	parts: setupShape.shape.parts
});
export type FrozenSetup = z.output<typeof frozenSetup>;
