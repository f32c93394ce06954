import { z } from 'zod';
import { Fault } from '#lib/fault.ts';
import { checkNetlist } from '#lib/circuit/check.ts';
import type { Element, Model, Netlist, Probe, Switch } from '#lib/circuit/netlist.ts';
import { firstIssue, written } from './issue.ts';
import { elementFrom, elementWritten } from './netlist-elements.ts';
import { modelForm, modelKinds, modelWritten } from './netlist-models.ts';
import { isName, name, NAME_WORDS, node, positions } from './netlist-parts.ts';

/** A circuit as it is written: groups of parts by their names, in words and with units. */

/** A circuit, and what its ports are called. */
export interface NamedCircuit {
	readonly netlist: Netlist;
	/** Of the ports, in the order of `netlist.ports`. */
	readonly portNames: readonly string[];
}

/** Called with what is wrong and where; it does not come back. */
export type Refuse = (path: readonly string[], found: string, allowed: string) => never;

type Group = Record<string, unknown>;

const isGroup = (value: unknown): value is Group =>
	typeof value === 'object' && value !== null && !Array.isArray(value);

/** A group of parts by their names. */
export const group = (what: string) => z.custom<Group>(isGroup, { error: `Give ${what}, each by its name.` });

/** The groups a circuit is written in; a file has a name and a version beside them. */
export const circuitGroups = {
	elements: group('the elements of the circuit'),
	models: group('the models of its devices').default({}),
	ports: group('the nodes of the ports'),
	probes: group('the probes').default({}),
	switches: group('the switches').default({})
};
const groupsForm = z.strictObject(circuitGroups);
export type CircuitGroups = z.output<typeof groupsForm>;

const probeForm = z.union(
	[z.strictObject({ 'current through': name }), z.strictObject({ 'voltage at': node })],
	{
		error:
			'Give "current through" with the name of an ammeter or supply, or "voltage at" with the name of a node.'
	}
);

/** Reads parts of a circuit; what is wrong is refused with the path of its place. */
export class CircuitReader {
	readonly #refuse: Refuse;

	constructor(refuse: Refuse) {
		this.#refuse = refuse;
	}

	read<T>(form: z.ZodType<T>, data: unknown, path: readonly string[] = []): T {
		const read = form.safeParse(data);
		return read.success ? read.data : this.#refuseIssue(read.error, data, path);
	}

	/** Every entry of a group, turned into something by its name. */
	each<T>(
		entries: Readonly<Group>,
		key: string,
		make: (data: unknown, path: readonly string[], name: string) => T
	): readonly (readonly [string, T])[] {
		return Object.entries(entries).map(([entry, data]) => {
			if (!isName(entry)) this.#refuse([key, entry], `the name ${written(entry)}`, `${NAME_WORDS}.`);
			return [entry, make(data, [key, entry], entry)] as const;
		});
	}

	/** The circuit itself, not yet checked for being one that can be solved. */
	circuit(data: CircuitGroups): NamedCircuit {
		const ports = this.each(data.ports, 'ports', (value, path) => this.read(node, value, path));
		const switches = this.each(data.switches, 'switches', (value, path, entry): Switch => ({
			name: entry,
			positions: this.read(positions, value, path)
		})).map(([, each]) => each);
		const netlist: Netlist = {
			elements: this.each(data.elements, 'elements', (value, path, entry) =>
				this.#element(value, path, entry)
			).map(([, element]) => element),
			models: Object.fromEntries(this.each(data.models, 'models', (value, path) => this.#model(value, path))),
			ports: ports.map(([, at]) => at),
			probes: this.each(data.probes, 'probes', (value, path, entry): Probe => {
				const probe = this.read(probeForm, value, path);
				return 'voltage at' in probe
					? { name: entry, kind: 'voltage', node: probe['voltage at'] }
					: { name: entry, kind: 'current', element: probe['current through'] };
			}).map(([, probe]) => probe),
			...(switches.length > 0 && { switches })
		};
		return { netlist, portNames: ports.map(([port]) => port) };
	}

	/** Refuses what a schema found wrong with the value at `path`. */
	#refuseIssue(error: z.ZodError, data: unknown, path: readonly string[]): never {
		const issue = firstIssue(error, data);
		return this.#refuse([...path, ...issue.path.map(String)], issue.found, issue.allowed);
	}

	#element(data: unknown, path: readonly string[], entry: string): Element {
		if (!isGroup(data)) return this.#refuse(path, written(data), 'Give a kind with its value, and nodes.');
		const read = elementFrom(data, entry);
		if ('wrong' in read) return this.#refuse(path, written(data), read.wrong);
		return 'error' in read ? this.#refuseIssue(read.error, data, path) : read.element;
	}

	#model(data: unknown, path: readonly string[]): Model {
		const kind = isGroup(data) ? data.kind : undefined;
		const form = modelForm(kind);
		return form
			? this.read(form, data, path)
			: this.#refuse([...path, 'kind'], written(kind), `Give one of: ${modelKinds.join(', ')}.`);
	}
}

/** Parts by their names; what a part leaves out has no key. */
const byName = <T>(entries: readonly (readonly [string, T])[], write: (value: T) => unknown) =>
	Object.fromEntries(entries.map(([entry, value]) => [entry, withoutGaps(write(value))]));

const withoutGaps = (written: unknown): unknown =>
	isGroup(written)
		? Object.fromEntries(Object.entries(written).filter(([, value]) => value !== undefined))
		: written;

/** The groups of a circuit as they are written; `CircuitReader` gives back exactly the same. */
export function circuitWritten({ netlist, portNames }: NamedCircuit) {
	const { elements, models, ports, probes, switches } = netlist;
	return {
		elements: byName(
			elements.map((element) => [element.name, element] as const),
			elementWritten
		),
		models: byName(Object.entries(models), modelWritten),
		ports: byName(
			ports.map((at, i) => [portNames[i], at] as const),
			(at) => at
		),
		probes: byName(
			probes.map((probe) => [probe.name, probe] as const),
			(probe) =>
				probe.kind === 'voltage' ? { 'voltage at': probe.node } : { 'current through': probe.element }
		),
		switches: byName(
			(switches ?? []).map((each) => [each.name, each.positions] as const),
			(at) => at
		)
	};
}

/** Ends the reading of a circuit whose fault has been told. */
class Refused extends Error {}

const isCircuit = (value: unknown): value is NamedCircuit => isGroup(value) && 'netlist' in value;

/** A circuit within a larger file: written in words and with units outside, checked for being one that can be solved. */
export const circuitForm = z.codec(groupsForm, z.custom<NamedCircuit>(isCircuit), {
	decode: (data, context): NamedCircuit => {
		const refuse = (path: readonly string[], input: unknown, message: string): never => {
			context.issues.push({ code: 'custom', path: [...path], input, message });
			throw new Refused();
		};
		try {
			const circuit = new CircuitReader(refuse).circuit(data);
			checkNetlist(circuit.netlist);
			return circuit;
		} catch (problem) {
			if (problem instanceof Fault)
				context.issues.push({
					code: 'custom',
					input: data,
					message: `${problem.place}: ${problem.finding} ${problem.remedy}`
				});
			else if (!(problem instanceof Refused)) throw problem;
			return z.NEVER;
		}
	},
	// a union tries this form on devices of other kinds too
	encode: (circuit) => (isCircuit(circuit) ? circuitWritten(circuit) : z.NEVER)
});
