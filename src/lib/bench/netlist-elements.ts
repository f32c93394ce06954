import { z } from 'zod';
import { formatQuantity } from './quantity.ts';
import type { QuantityKind } from './quantity.ts';
import type { Element } from '#lib/circuit/netlist.ts';
import { measure, name, node, positions, quality } from './netlist-parts.ts';
import type { Quality } from './netlist-parts.ts';

/**
 * The elements of a netlist file. An element is a map whose one key names its kind and holds its main value, such as
 * `{ capacitor: 4.7 pF, from: in, to: a }`.
 */

const SPEED_OF_LIGHT = 299792458;

const ends = { from: node, to: node };
const returns = { 'near return': node.default('ground'), 'far return': node.default('ground') };
const loss = { 'series resistance': measure('resistance').optional(), Q: quality.optional() };
const oneLoss = {
	error: 'Give the loss once: either "series resistance" or "Q".',
	path: ['Q']
};

type Loss = { readonly 'series resistance'?: number; readonly Q?: Quality };

/** Ω in series, for a part of the reactance `reactance(frequency)`. */
const seriesResistance = (
	{ 'series resistance': resistance, Q }: Loss,
	reactance: (omega: number) => number
): number => (Q ? reactance(2 * Math.PI * Q.frequency) / Q.q : (resistance ?? 0));

const onceLossy = ({ 'series resistance': resistance, Q }: Loss): boolean =>
	resistance === undefined || Q === undefined;

const form = <S extends z.ZodType>(schema: S, make: (written: z.output<S>, name: string) => Element) => ({
	schema,
	make: (data: unknown, name: string) => {
		const read = schema.safeParse(data);
		return read.success ? { element: make(read.data, name) } : { error: read.error };
	}
});

const FACTOR_WORDS = { error: 'Give the velocity factor: a number above 0, at most 1.' };
const velocityFactor = z.number(FACTOR_WORDS).gt(0, FACTOR_WORDS).lte(1, FACTOR_WORDS);

const lineDelay = z
	.strictObject({
		line: measure('resistance'),
		...ends,
		...returns,
		delay: measure('time').optional(),
		length: measure('length').optional(),
		'velocity factor': velocityFactor.optional()
	})
	.refine(
		(line) =>
			line.delay === undefined
				? line.length !== undefined && line['velocity factor'] !== undefined
				: line.length === undefined && line['velocity factor'] === undefined,
		{ error: 'Give either "delay", or "length" and "velocity factor".', path: ['delay'] }
	);

const forms = {
	resistor: form(z.strictObject({ resistor: measure('resistance'), ...ends }), (w, name) => ({
		kind: 'resistor',
		name,
		from: w.from,
		to: w.to,
		resistance: w.resistor
	})),
	coil: form(
		z.strictObject({ coil: measure('inductance'), ...ends, ...loss }).refine(onceLossy, oneLoss),
		(w, name) => ({
			kind: 'coil',
			name,
			from: w.from,
			to: w.to,
			inductance: w.coil,
			seriesResistance: seriesResistance(w, (omega) => omega * w.coil)
		})
	),
	capacitor: form(
		z.strictObject({ capacitor: measure('capacitance'), ...ends, ...loss }).refine(onceLossy, oneLoss),
		(w, name) => ({
			kind: 'capacitor',
			name,
			from: w.from,
			to: w.to,
			capacitance: w.capacitor,
			seriesResistance: seriesResistance(w, (omega) => 1 / (omega * w.capacitor))
		})
	),
	line: form(lineDelay, (w, name) => ({
		kind: 'ideal line',
		name,
		near: [w.from, w['near return']],
		far: [w.to, w['far return']],
		characteristicImpedance: w.line,
		delay: w.delay ?? w.length! / (w['velocity factor']! * SPEED_OF_LIGHT)
	})),
	'lossy line': form(
		z.strictObject({
			'lossy line': measure('length'),
			...ends,
			...returns,
			resistance: measure('resistance per length'),
			inductance: measure('inductance per length'),
			capacitance: measure('capacitance per length')
		}),
		(w, name) => ({
			kind: 'uniform line',
			name,
			near: [w.from, w['near return']],
			far: [w.to, w['far return']],
			resistancePerMetre: w.resistance,
			inductancePerMetre: w.inductance,
			capacitancePerMetre: w.capacitance,
			length: w['lossy line']
		})
	),
	'controlled source': form(
		z.strictObject({
			'controlled source': measure('conductance'),
			...ends,
			control: z.tuple([node, node], { error: 'Give two nodes, such as [base, emitter].' })
		}),
		(w, name) => ({
			kind: 'controlled source',
			name,
			from: w.from,
			to: w.to,
			control: w.control,
			transconductance: w['controlled source']
		})
	),
	supply: form(
		z
			.strictObject({
				supply: measure('voltage'),
				...ends,
				switch: name.optional(),
				'on in': positions.optional()
			})
			.refine((supply) => (supply.switch === undefined) === (supply['on in'] === undefined), {
				error: 'Give both "switch" and "on in", or neither for a supply that is always on.',
				path: ['on in']
			}),
		(w, name) => ({
			kind: 'supply',
			name,
			from: w.from,
			to: w.to,
			voltage: w.supply,
			...(w.switch !== undefined && { switch: w.switch, onIn: w['on in'] })
		})
	),
	relay: form(
		z.strictObject({
			relay: name,
			'closed in': positions,
			...ends,
			'contact resistance': measure('resistance'),
			'open capacitance': measure('capacitance').default(0)
		}),
		(w, name) => ({
			kind: 'relay',
			name,
			from: w.from,
			to: w.to,
			switch: w.relay,
			closedIn: w['closed in'],
			contactResistance: w['contact resistance'],
			openCapacitance: w['open capacitance']
		})
	),
	ammeter: form(
		z.strictObject({ ammeter: z.literal('ideal', { error: 'Give "ideal".' }), ...ends }),
		(w, name) => ({ kind: 'ammeter', name, from: w.from, to: w.to })
	),
	diode: form(z.strictObject({ diode: name, anode: node, cathode: node }), (w, name) => ({
		kind: 'diode',
		name,
		anode: w.anode,
		cathode: w.cathode,
		model: w.diode
	})),
	varactor: form(z.strictObject({ varactor: name, anode: node, cathode: node }), (w, name) => ({
		kind: 'varactor',
		name,
		anode: w.anode,
		cathode: w.cathode,
		model: w.varactor
	})),
	'bipolar transistor': form(
		z.strictObject({ 'bipolar transistor': name, collector: node, base: node, emitter: node }),
		(w, name) => ({
			kind: 'bipolar transistor',
			name,
			collector: w.collector,
			base: w.base,
			emitter: w.emitter,
			model: w['bipolar transistor']
		})
	),
	'junction field-effect transistor': form(
		z.strictObject({ 'junction field-effect transistor': name, drain: node, gate: node, source: node }),
		(w, name) => ({
			kind: 'junction field-effect transistor',
			name,
			drain: w.drain,
			gate: w.gate,
			source: w.source,
			model: w['junction field-effect transistor']
		})
	),
	'quartz crystal': form(z.strictObject({ 'quartz crystal': name, ...ends }), (w, name) => ({
		kind: 'quartz crystal',
		name,
		from: w.from,
		to: w.to,
		model: w['quartz crystal']
	}))
};

type Word = keyof typeof forms;

const words = Object.keys(forms) as readonly Word[];

/** What an element is written as; `wrong` says that none or several of the kinds are named. */
export function elementFrom(
	data: Readonly<Record<string, unknown>>,
	name: string
): { readonly element: Element } | { readonly error: z.ZodError } | { readonly wrong: string } {
	const named = words.filter((word) => Object.hasOwn(data, word));
	if (named.length !== 1)
		return {
			wrong: `Name one kind of element and its value, such as "resistor: 50 Ω". There are: ${words.join(', ')}.`
		};
	return forms[named[0]].make(data, name);
}

/** Left out where it is what stands there anyway. */
const unless = (value: string, usual: string): string | undefined => (value === usual ? undefined : value);
const lossWritten = (resistance: number): string | undefined =>
	resistance === 0 ? undefined : formatQuantity(resistance, 'resistance');

/** The element as it is written; its kind comes first. */
export function elementWritten(element: Element): Readonly<Record<string, unknown>> {
	const value = (number: number, kind: QuantityKind): string => formatQuantity(number, kind);
	switch (element.kind) {
		case 'resistor':
			return { resistor: value(element.resistance, 'resistance'), from: element.from, to: element.to };
		case 'coil':
			return {
				coil: value(element.inductance, 'inductance'),
				'series resistance': lossWritten(element.seriesResistance),
				from: element.from,
				to: element.to
			};
		case 'capacitor':
			return {
				capacitor: value(element.capacitance, 'capacitance'),
				'series resistance': lossWritten(element.seriesResistance),
				from: element.from,
				to: element.to
			};
		case 'ideal line':
		case 'uniform line': {
			const places = {
				from: element.near[0],
				to: element.far[0],
				'near return': unless(element.near[1], 'ground'),
				'far return': unless(element.far[1], 'ground')
			};
			if (element.kind === 'ideal line')
				return {
					line: value(element.characteristicImpedance, 'resistance'),
					delay: value(element.delay, 'time'),
					...places
				};
			return {
				'lossy line': value(element.length, 'length'),
				resistance: value(element.resistancePerMetre, 'resistance per length'),
				inductance: value(element.inductancePerMetre, 'inductance per length'),
				capacitance: value(element.capacitancePerMetre, 'capacitance per length'),
				...places
			};
		}
		case 'controlled source':
			return {
				'controlled source': value(element.transconductance, 'conductance'),
				from: element.from,
				to: element.to,
				control: element.control
			};
		case 'supply':
			return {
				supply: value(element.voltage, 'voltage'),
				from: element.from,
				to: element.to,
				switch: element.switch,
				'on in': element.onIn
			};
		case 'relay':
			return {
				relay: element.switch,
				'closed in': element.closedIn,
				from: element.from,
				to: element.to,
				'contact resistance': value(element.contactResistance, 'resistance'),
				'open capacitance':
					element.openCapacitance === 0 ? undefined : value(element.openCapacitance, 'capacitance')
			};
		case 'ammeter':
			return { ammeter: 'ideal', from: element.from, to: element.to };
		default: {
			const { kind, model, ...rest } = element;
			return { [kind]: model, ...rest, name: undefined };
		}
	}
}
