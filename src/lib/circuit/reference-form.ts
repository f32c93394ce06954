import { z } from 'zod';
import { faults } from './faults.ts';
import type { Depletion, Element, Model, Netlist, Probe } from './netlist.ts';

/**
 * A circuit in the JSON form of the reference circuits: elements by letter, models by the customary short parameter
 * names, ports, probes and the analyses to run. Its stored results are not looked at.
 */

const node = z.union([z.string().min(1), z.number().int().transform(String)]);
const two = z.tuple([node, node]);
const three = z.tuple([node, node, node]);
const four = z.tuple([node, node, node, node]);
const name = z.string().min(1);
const value = z.number();

const elementSchema = z.discriminatedUnion('kind', [
	z.object({ kind: z.literal('R'), name, nodes: two, value }),
	z.object({ kind: z.literal('L'), name, nodes: two, value, rs: z.number().default(0) }),
	z.object({ kind: z.literal('C'), name, nodes: two, value }),
	z.object({ kind: z.literal('V'), name, nodes: two, value }),
	z.object({ kind: z.literal('G'), name, nodes: four, value }),
	z.object({ kind: z.literal('T'), name, nodes: four, z0: z.number(), td: z.number() }),
	z.object({
		kind: z.literal('TL'),
		name,
		nodes: four,
		r: z.number(),
		l: z.number(),
		c: z.number(),
		len: z.number()
	}),
	z.object({ kind: z.literal('D'), name, nodes: two, model: name }),
	z.object({ kind: z.literal('Q'), name, nodes: three, model: name }),
	z.object({ kind: z.literal('J'), name, nodes: three, model: name })
]);

const supplies = z.record(z.string(), z.number()).default({});
const analysisSchema = z.discriminatedUnion('type', [
	z.object({
		type: z.literal('ac'),
		name,
		freqs_hz: z.object({ start: z.number(), stop: z.number(), points: z.number().int().positive() }),
		terminations_ohm: z.record(z.string(), z.number()).optional(),
		set: supplies
	}),
	z.object({
		type: z.literal('tran'),
		name,
		freqs_hz: z.array(z.number().positive()).min(1),
		dbm: z.array(z.number()).min(1),
		set: supplies
	}),
	z.object({
		type: z.literal('study'),
		name,
		points: z.array(z.tuple([z.number().positive(), z.number()])),
		set: supplies
	})
]);

const schema = z.object({
	elements: z.array(elementSchema).min(1),
	models: z.record(z.string(), z.record(z.string(), z.number())).default({}),
	ports: z.array(z.object({ n: z.number().int().positive(), node })).min(1),
	probes: z.array(z.union([z.object({ name, element: name }), z.object({ name, node })])).default([]),
	analyses: z.array(analysisSchema).default([])
});

type Written = z.infer<typeof schema>;
export type Analysis = Written['analyses'][number];

export interface ReferenceCircuit {
	readonly netlist: Netlist;
	readonly analyses: readonly Analysis[];
}

/** Name of the element, model or analysis an issue lies in, as far as the file gives one. */
function placeOf(data: unknown, path: readonly PropertyKey[]): string {
	const [list, index, ...rest] = path;
	const entries = (data as Record<PropertyKey, unknown> | null)?.[list ?? ''];
	const entry = Array.isArray(entries)
		? (entries[index as number] as { name?: unknown } | undefined)
		: undefined;
	const words = typeof entry?.name === 'string' ? [entry.name, ...rest] : path;
	return words.map(String).join(', ') || 'the file';
}

const depletion = (model: Record<string, number>, c: string, vj: string, m: string | number): Depletion => ({
	capacitance: model[c] ?? 0,
	potential: model[vj] ?? (typeof m === 'string' ? (m === 'M' ? 1 : 0.75) : 1),
	grading: typeof m === 'number' ? m : (model[m] ?? (m === 'M' ? 0.5 : 0.33)),
	bend: model.FC ?? 0.5
});

function modelOf(kind: 'D' | 'Q' | 'J', model: Record<string, number>): Model {
	switch (kind) {
		case 'D':
			return {
				kind: 'diode',
				saturationCurrent: model.IS ?? 1e-14,
				emissionCoefficient: model.N ?? 1,
				depletion: depletion(model, 'CJO', 'VJ', 'M')
			};
		case 'Q':
			return {
				kind: 'bipolar transistor',
				saturationCurrent: model.IS ?? 1e-16,
				forwardEmission: model.NF ?? 1,
				reverseEmission: model.NR ?? 1,
				forwardGain: model.BF ?? 100,
				reverseGain: model.BR ?? 1,
				earlyVoltage: model.VAF ?? Infinity,
				baseEmitter: depletion(model, 'CJE', 'VJE', 'MJE'),
				baseCollector: depletion(model, 'CJC', 'VJC', 'MJC'),
				forwardTransit: model.TF ?? 0,
				reverseTransit: model.TR ?? 0
			};
		case 'J':
			return {
				kind: 'junction field-effect transistor',
				threshold: model.VTO ?? -2,
				transconductance: model.BETA ?? 1e-4,
				channelModulation: model.LAMBDA ?? 0,
				saturationCurrent: model.IS ?? 1e-14,
				gateSource: depletion(model, 'CGS', 'PB', 0.5),
				gateDrain: depletion(model, 'CGD', 'PB', 0.5)
			};
	}
}

type WrittenElement = Written['elements'][number];

function elementOf(element: WrittenElement, meters: ReadonlySet<string>): Element {
	const { name } = element;
	switch (element.kind) {
		case 'R':
		case 'L':
		case 'C':
		case 'V': {
			const [from, to] = element.nodes;
			if (element.kind === 'R') return { kind: 'resistor', name, from, to, resistance: element.value };
			if (element.kind === 'L')
				return { kind: 'coil', name, from, to, inductance: element.value, seriesResistance: element.rs };
			if (element.kind === 'C')
				return { kind: 'capacitor', name, from, to, capacitance: element.value, seriesResistance: 0 };
			if (element.value === 0 && meters.has(name)) return { kind: 'ammeter', name, from, to };
			return { kind: 'supply', name, from, to, voltage: element.value };
		}
		case 'G': {
			const [from, to, plus, minus] = element.nodes;
			return {
				kind: 'controlled source',
				name,
				from,
				to,
				control: [plus, minus],
				transconductance: element.value
			};
		}
		case 'T':
		case 'TL': {
			const [a, b, c, d] = element.nodes;
			const ends = { name, near: [a, b], far: [c, d] } as const;
			if (element.kind === 'T')
				return { kind: 'ideal line', ...ends, characteristicImpedance: element.z0, delay: element.td };
			return {
				kind: 'uniform line',
				...ends,
				resistancePerMetre: element.r,
				inductancePerMetre: element.l,
				capacitancePerMetre: element.c,
				length: element.len
			};
		}
		case 'D': {
			const [anode, cathode] = element.nodes;
			return { kind: 'diode', name, anode, cathode, model: element.model };
		}
		case 'Q': {
			const [collector, base, emitter] = element.nodes;
			return { kind: 'bipolar transistor', name, collector, base, emitter, model: element.model };
		}
		case 'J': {
			const [drain, gate, source] = element.nodes;
			return { kind: 'junction field-effect transistor', name, drain, gate, source, model: element.model };
		}
	}
}

/** The models, each of the kind of the device that names it first; a model no device uses is left out. */
function modelsOf({ elements, models }: Written): Record<string, Model> {
	const read: Record<string, Model> = {};
	for (const element of elements)
		if ('model' in element && Object.hasOwn(models, element.model) && !Object.hasOwn(read, element.model))
			read[element.model] = modelOf(element.kind, models[element.model]);
	return read;
}

/** Reads a circuit from parsed JSON. Throws `circuit-form`, naming the element, where it is not in this form. */
export function readReferenceForm(data: unknown): ReferenceCircuit {
	const read = schema.safeParse(data);
	if (!read.success) {
		const issue = read.error.issues[0];
		throw faults['circuit-form']({ place: placeOf(data, issue.path), finding: issue.message });
	}
	const written = read.data;
	const probes = written.probes.map((probe): Probe =>
		'element' in probe
			? { name: probe.name, kind: 'current', element: probe.element }
			: { name: probe.name, kind: 'voltage', node: probe.node }
	);
	const meters = new Set(probes.flatMap((probe) => (probe.kind === 'current' ? [probe.element] : [])));
	return {
		netlist: {
			elements: written.elements.map((element) => elementOf(element, meters)),
			models: modelsOf(written),
			ports: [...written.ports].sort((a, b) => a.n - b.n).map((port) => port.node),
			probes
		},
		analyses: written.analyses
	};
}
