import { Document, isCollection } from 'yaml';
import { z } from 'zod';
import { Fault } from '#lib/fault.ts';
import { firstIssue, pathText, written } from '#lib/bench/issue.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import { checkNetlist } from '#lib/circuit/check.ts';
import { nodesOf } from '#lib/circuit/netlist.ts';
import type { Element, Model, Netlist, Probe } from '#lib/circuit/netlist.ts';
import { faults } from './faults.ts';
import { elementFrom, elementWritten } from '#lib/bench/netlist-elements.ts';
import { modelForm, modelKinds, modelWritten } from '#lib/bench/netlist-models.ts';
import { isName, measure, name, NAME_WORDS, node } from '#lib/bench/netlist-parts.ts';
import { controlLine, isMap, readPlainYaml } from './plain-yaml.ts';
import type { PlainYaml } from './plain-yaml.ts';

export const NETLIST_FILE_VERSION = 1;
/** Characters; several times the largest circuit that is solved. */
const LARGEST = 100_000;

/** What a netlist file holds: a circuit, and what its parts are called beyond what is needed to solve it. */
export interface NetlistFile {
	readonly name: string;
	readonly netlist: Netlist;
	/** Of the ports, in the order of `netlist.ports`. */
	readonly portNames: readonly string[];
	/** Other supply voltages, in V, by the name of the state and then of the supply. */
	readonly states: Readonly<Record<string, Readonly<Record<string, number>>>>;
}

const group = (what: string) =>
	z.custom<Record<string, unknown>>(isMap, { error: `Give ${what}, each by its name.` });

const fileForm = z.strictObject({
	'faint echo netlist': z.literal(NETLIST_FILE_VERSION),
	name: z.string({ error: 'Give the circuit a name.' }).min(1).max(80),
	elements: group('the elements of the circuit'),
	models: group('the models of its devices').default({}),
	ports: group('the nodes of the ports'),
	probes: group('the probes').default({}),
	states: group('the states').default({})
});

const probeForm = z.union(
	[z.strictObject({ 'current through': name }), z.strictObject({ 'voltage at': node })],
	{
		error:
			'Give "current through" with the name of an ammeter or supply, or "voltage at" with the name of a node.'
	}
);

/** Reads one file: every part of it refused by name, path and line. */
class Reader {
	readonly #file: string;
	readonly #yaml: PlainYaml;

	constructor(file: string, yaml: PlainYaml) {
		this.#file = file;
		this.#yaml = yaml;
	}

	refuse(path: readonly string[], found: string, allowed: string): never {
		const line = this.#yaml.lineOf(path);
		throw faults['netlist-value']({ file: this.#file, path: pathText(path), line, found, allowed });
	}

	/** Refuses what a schema found wrong with the value at `path`. */
	refuseIssue(error: z.ZodError, data: unknown, path: readonly string[]): never {
		const issue = firstIssue(error, data);
		const whole = [...path, ...issue.path.map(String)];
		return this.refuse(whole, issue.found, issue.allowed);
	}

	read<T>(form: z.ZodType<T>, data: unknown, path: readonly string[] = []): T {
		const read = form.safeParse(data);
		return read.success ? read.data : this.refuseIssue(read.error, data, path);
	}

	/** Every entry of a group, turned into something by its name. */
	each<T>(
		entries: Readonly<Record<string, unknown>>,
		key: string,
		make: (data: unknown, path: readonly string[], name: string) => T
	): readonly (readonly [string, T])[] {
		return Object.entries(entries).map(([entry, data]) => {
			if (!isName(entry)) this.refuse([key, entry], `the name ${written(entry)}`, `${NAME_WORDS}.`);
			return [entry, make(data, [key, entry], entry)] as const;
		});
	}

	element(data: unknown, path: readonly string[], entry: string): Element {
		if (!isMap(data)) return this.refuse(path, written(data), 'Give a kind with its value, and nodes.');
		const read = elementFrom(data, entry);
		if ('wrong' in read) return this.refuse(path, written(data), read.wrong);
		return 'error' in read ? this.refuseIssue(read.error, data, path) : read.element;
	}

	model(data: unknown, path: readonly string[]): Model {
		const kind = isMap(data) ? data.kind : undefined;
		const form = modelForm(kind);
		return form
			? this.read(form, data, path)
			: this.refuse([...path, 'kind'], written(kind), `Give one of: ${modelKinds.join(', ')}.`);
	}

	/** Passes a fault of the circuit on with the line of the part it names. */
	checked(netlist: Netlist): Netlist {
		try {
			checkNetlist(netlist);
			return netlist;
		} catch (fault) {
			if (!(fault instanceof Fault)) throw fault;
			const place = fault.place.replace(/^circuit, /, '');
			const { finding, remedy } = fault;
			const line = this.#yaml.lineOf(pathOf(place, netlist));
			throw faults['netlist-circuit']({ file: this.#file, place, line, finding, remedy });
		}
	}
}

/** Where in the file stands what `checkNetlist` calls `C1`, `model npn1`, `node a`, `port 1` or `probe x`. */
function pathOf(place: string, netlist: Netlist): readonly string[] {
	const [, word, rest] = /^(?:(model|node|port|probe) )?(.*)$/.exec(place) ?? [];
	const element = netlist.elements.find((candidate) =>
		word === 'node' ? nodesOf(candidate).includes(rest) : candidate.name === place
	);
	if (element) return ['elements', element.name];
	if (word === 'model') return ['models', rest];
	if (word === 'probe') return ['probes', rest];
	return word === 'port' || place === 'ports' ? ['ports'] : ['elements'];
}

/**
 * Reads a netlist file (YAML or JSON, quantities with units) and checks that the circuit can be solved.
 * @throws Fault `netlist-size`, `netlist-text`, `netlist-syntax`, `netlist-kind`, `netlist-version`, `netlist-value` or
 * `netlist-circuit`, naming file, line and element.
 */
export function readNetlistFile(text: string, file: string): NetlistFile {
	if (text.length > LARGEST) throw faults['netlist-size']({ file, found: text.length, allowed: LARGEST });
	const control = controlLine(text);
	if (control !== undefined) throw faults['netlist-text']({ file, line: control });
	const yaml = readPlainYaml(text);
	if ('problem' in yaml) throw faults['netlist-syntax']({ file, ...yaml });
	const raw = yaml.data;
	const version = isMap(raw) ? raw['faint echo netlist'] : undefined;
	if (version === undefined) throw faults['netlist-kind']({ file, found: written(raw ?? undefined) });
	if (version !== NETLIST_FILE_VERSION)
		throw faults['netlist-version']({ file, found: written(version), allowed: NETLIST_FILE_VERSION });
	const reader = new Reader(file, yaml);
	const data = reader.read(fileForm, raw);
	const ports = reader.each(data.ports, 'ports', (value, path) => reader.read(node, value, path));
	const netlist = reader.checked({
		elements: reader
			.each(data.elements, 'elements', (value, path, entry) => reader.element(value, path, entry))
			.map(([, element]) => element),
		models: Object.fromEntries(
			reader.each(data.models, 'models', (value, path) => reader.model(value, path))
		),
		ports: ports.map(([, at]) => at),
		probes: reader
			.each(data.probes, 'probes', (value, path, entry): Probe => {
				const probe = reader.read(probeForm, value, path);
				return 'voltage at' in probe
					? { name: entry, kind: 'voltage', node: probe['voltage at'] }
					: { name: entry, kind: 'current', element: probe['current through'] };
			})
			.map(([, probe]) => probe)
	});
	const supplies = netlist.elements.filter(({ kind }) => kind === 'supply').map((supply) => supply.name);
	const states = reader.each(data.states, 'states', (value, path) => {
		const voltages = Object.entries(reader.read(group('the voltages of supplies'), value, path));
		return Object.fromEntries(
			voltages.map(([supply, volts]) => {
				const inside = [...path, supply];
				if (!supplies.includes(supply))
					reader.refuse(
						inside,
						written(supply),
						`Name a supply of this circuit (${supplies.join(', ') || 'it has none'}).`
					);
				return [supply, reader.read(measure('voltage'), volts, inside)];
			})
		);
	});
	return {
		name: data.name,
		netlist,
		portNames: ports.map(([port]) => port),
		states: Object.fromEntries(states)
	};
}

/** The circuit alone; see `readNetlistFile`. */
export const readNetlist = (text: string, file: string): Netlist => readNetlistFile(text, file).netlist;

const byName = <T>(entries: readonly (readonly [string, T])[], write: (value: T) => unknown) =>
	Object.fromEntries(entries.map(([entry, value]) => [entry, write(value)]));

/** Writes a netlist file; `readNetlistFile` gives back exactly the same. */
export function writeNetlist({ name, netlist, portNames, states }: NetlistFile): string {
	const { elements, models, ports, probes } = netlist;
	const whole = {
		'faint echo netlist': NETLIST_FILE_VERSION,
		name,
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
		states: byName(Object.entries(states), (voltages) =>
			byName(Object.entries(voltages), (volts) => formatQuantity(volts, 'voltage'))
		)
	};
	const document = new Document(whole, { aliasDuplicateObjects: false });
	// one element or probe a line
	for (const [key, list] of [
		['elements', elements],
		['probes', probes]
	] as const)
		for (const entry of list) {
			const written = document.getIn([key, entry.name], true);
			if (isCollection(written)) written.flow = true;
		}
	return document.toString({ lineWidth: 0 });
}
