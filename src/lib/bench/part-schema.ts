import { z } from 'zod';
import { lossCoefficients } from '#lib/network/cable.ts';
import { Fault } from '#lib/fault.ts';
import { identifier, label, plainNumber, quantity } from './schema-parts.ts';

/** Settings by the kind of part that has them. */
export const padSettings = {
	attenuation: quantity('attenuation', { from: 0, to: 80 }),
	network: z.enum(['pi', 'tee'], { error: 'Give pi or tee.' }),
	/** How far the three resistors are from their exact values, from port 1 to port 2. */
	resistorErrors: z.tuple(
		[
			quantity('fraction', { from: -0.5, to: 0.5 }),
			quantity('fraction', { from: -0.5, to: 0.5 }),
			quantity('fraction', { from: -0.5, to: 0.5 })
		],
		{ error: 'Give three errors, such as [1 %, -0.5 %, 1 %].' }
	),
	/** Power it may burn for good. */
	powerRating: quantity('power', { from: 0.001, to: 1000 })
};
const pad = z.strictObject({
	id: identifier,
	kind: z.literal('pad'),
	name: label,
	...padSettings,
	powerRating: padSettings.powerRating.prefault('1 W')
});

const catalogueLoss = z.strictObject({
	frequency: quantity('frequency', { from: 1e5, to: 2e10 }),
	loss: quantity('loss per length', { from: 0, to: 10 })
});

export const cableSettings = {
	length: quantity('length', { from: 0, to: 200 }),
	velocityFactor: plainNumber('the velocity factor', { from: 0.3, to: 1 }),
	impedance: quantity('resistance', { from: 5, to: 300 }),
	/** As catalogues state it: at two frequencies, the lower first. */
	loss: z.tuple([catalogueLoss, catalogueLoss], { error: 'Give the loss at two frequencies.' })
};
const cable = z
	.strictObject({ id: identifier, kind: z.literal('cable'), name: label, ...cableSettings })
	.superRefine((c, context) => {
		try {
			const [low, high] = c.loss.map((l) => ({ frequency: l.frequency, lossDb: l.loss * 100 }));
			lossCoefficients(low, high);
		} catch (fault) {
			if (!(fault instanceof Fault)) throw fault;
			context.addIssue({
				code: 'custom',
				path: ['loss'],
				input: 'these two values',
				message: `${fault.finding} ${fault.remedy}`
			});
		}
	});

const section = z.strictObject({
	impedance: quantity('resistance', { from: 5, to: 300 }),
	length: quantity('length', { from: 0, to: 0.5 }),
	velocityFactor: plainNumber('the velocity factor', { from: 0.3, to: 1 })
});

export const adapterSettings = {
	sections: z
		.array(section, { error: 'Give a list of sections.' })
		.min(1, { error: 'Give at least one section.' })
		.max(8, { error: 'Give at most 8 sections.' })
};
const adapter = z.strictObject({
	id: identifier,
	kind: z.literal('adapter'),
	name: label,
	...adapterSettings
});

/** A part between the reflectometer and the device. */
export const part = z.discriminatedUnion('kind', [pad, cable, adapter], {
	error: 'Give a part of kind pad, cable or adapter.'
});

export type Part = z.output<typeof part>;
export type Pad = z.output<typeof pad>;
export type Cable = z.output<typeof cable>;
export type Adapter = z.output<typeof adapter>;
export type PartKind = Part['kind'];
