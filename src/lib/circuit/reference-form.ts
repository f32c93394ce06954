import { faults } from './faults.ts';
import type { Depletion, Element, Model, Netlist, Probe } from './netlist.ts';
import { schema } from './reference-schema.ts';
import type { Written } from './reference-schema.ts';

/**
 * A circuit in the JSON form of the reference circuits: elements by letter, models by the customary short parameter
 * names, ports, probes and the analyses to run. Its stored results are not looked at.
 */

/** The entries a driven point has beside those of its probes; `runAnalyses` writes them. */
export const RESULT_NAMES: readonly string[] = [
	'freq_hz',
	'dbm',
	'converged',
	'reason',
	'harmonics',
	'iterations',
	's11',
	'zin',
	's11_error',
	's21',
	'gain_db',
	'pout_dbm'
];

/** Characters of what was found that a message repeats. */
const LONGEST = 60;

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
	const named = typeof entry?.name === 'string' && entry.name !== '';
	const words = (named ? [entry.name as string, ...rest] : path).map((key) =>
		typeof key === 'number' ? `item ${key + 1}` : String(key)
	);
	return words.join(', ') || 'the file';
}

/** What stands at a path of the file, cut to a readable length. */
function foundAt(data: unknown, path: readonly PropertyKey[]): string {
	const value = path.reduce<unknown>(
		(inner, key) =>
			typeof inner === 'object' && inner !== null && Object.hasOwn(inner, key)
				? (inner as Record<PropertyKey, unknown>)[key]
				: undefined,
		data
	);
	if (value === undefined) return 'nothing';
	const words = JSON.stringify(value);
	return words.length > LONGEST ? `${words.slice(0, LONGEST - 1)}…` : words;
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

/**
 * Throws `circuit-probe-name` where the value of a probe would take the place of another result of a driven point, or of
 * another probe.
 */
export function checkProbeNames({ probes }: Netlist): void {
	const names = probes.map((probe) => probe.name);
	names.forEach((probe, i) => {
		if (RESULT_NAMES.includes(probe))
			throw faults['circuit-probe-name']({ probe, finding: 'Results have an entry of this name already' });
		if (names.indexOf(probe) !== i)
			throw faults['circuit-probe-name']({ probe, finding: 'Two probes have this name' });
	});
}

/**
 * Reads a circuit from parsed JSON. Throws `circuit-form`, naming the element, where it is not in this form, or the fault
 * of `checkProbeNames`.
 */
export function readReferenceForm(data: unknown): ReferenceCircuit {
	const read = schema.safeParse(data);
	if (!read.success) {
		const issue = read.error.issues[0];
		const { path, message } = issue;
		throw faults['circuit-form']({
			place: placeOf(data, path),
			found: foundAt(data, path),
			allowed: message
		});
	}
	const written = read.data;
	const probes = written.probes.map((probe): Probe =>
		'element' in probe
			? { name: probe.name, kind: 'current', element: probe.element }
			: { name: probe.name, kind: 'voltage', node: probe.node }
	);
	const meters = new Set(probes.flatMap((probe) => (probe.kind === 'current' ? [probe.element] : [])));
	const netlist: Netlist = {
		elements: written.elements.map((element) => elementOf(element, meters)),
		models: modelsOf(written),
		ports: [...written.ports].sort((a, b) => a.n - b.n).map((port) => port.node),
		probes
	};
	checkProbeNames(netlist);
	return { netlist, analyses: written.analyses };
}
