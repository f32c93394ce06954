import { Document, isCollection } from 'yaml';
import { z } from 'zod';
import { Fault } from '#lib/fault.ts';
import { pathText, written } from '#lib/bench/issue.ts';
import { circuitGroups, CircuitReader, circuitWritten } from '#lib/bench/netlist-form.ts';
import type { NamedCircuit, Refuse } from '#lib/bench/netlist-form.ts';
import { checkNetlist } from '#lib/circuit/check.ts';
import { nodesOf } from '#lib/circuit/netlist.ts';
import type { Netlist } from '#lib/circuit/netlist.ts';
import { faults } from './faults.ts';
import { asWritten } from './netlist-value.ts';
import { controlLine, isMap, readPlainYaml } from './plain-yaml.ts';
import type { PlainYaml } from './plain-yaml.ts';

export const NETLIST_FILE_VERSION = 1;
/** Characters; several times the largest circuit that is solved. */
const LARGEST = 100_000;

/** Whether a text says of itself that it is a netlist. */
export const isNetlist = (text: string): boolean => /^\s*["'{]*faint echo netlist["']?\s*:/m.test(text);

/** Whether the name of a file says that it is one. */
export const isNetlistName = (file: string): boolean => /\.netlist\.(ya?ml|json)$/i.test(file);

/** What a netlist file holds. */
export interface NetlistFile extends NamedCircuit {
	readonly name: string;
}

const fileForm = z.strictObject({
	'faint echo netlist': z.literal(NETLIST_FILE_VERSION),
	name: z.string({ error: 'Give the circuit a name.' }).min(1).max(80),
	...circuitGroups
});

/** Where in the file stands what `checkNetlist` calls `C1`, `model npn1`, `node a`, `port 1`, `probe x` or `switch y`. */
function pathOf(place: string, netlist: Netlist): readonly string[] {
	const [, word, rest] = /^(?:(model|node|port|probe|switch) )?(.*)$/.exec(place) ?? [];
	const element = netlist.elements.find((candidate) =>
		word === 'node' ? nodesOf(candidate).includes(rest) : candidate.name === place
	);
	if (element) return ['elements', element.name];
	if (word === 'model') return ['models', rest];
	if (word === 'probe') return ['probes', rest];
	if (word === 'switch') return ['switches', rest];
	if (place === 'switches') return ['switches'];
	return word === 'port' || place === 'ports' ? ['ports'] : ['elements'];
}

/** Passes a fault of the circuit on with the line of the part it names. */
function checked(netlist: Netlist, file: string, yaml: PlainYaml): void {
	try {
		checkNetlist(netlist);
	} catch (fault) {
		if (!(fault instanceof Fault)) throw fault;
		const place = fault.place.replace(/^circuit, /, '');
		const path = pathOf(place, netlist);
		const { remedy } = fault;
		const finding =
			fault.code === 'circuit-value' ? asWritten(fault.finding, yaml.data, path) : fault.finding;
		throw faults['netlist-circuit']({
			file,
			place,
			line: yaml.lineOf(path),
			finding,
			remedy
		});
	}
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
	const refuse: Refuse = (path, found, allowed) => {
		const line = yaml.lineOf(path);
		throw faults['netlist-value']({ file, path: pathText(path), line, found, allowed });
	};
	const reader = new CircuitReader(refuse);
	const data = reader.read(fileForm, raw);
	const circuit = reader.circuit(data);
	checked(circuit.netlist, file, yaml);
	return { name: data.name, ...circuit };
}

/** The circuit alone; see `readNetlistFile`. */
export const readNetlist = (text: string, file: string): Netlist => readNetlistFile(text, file).netlist;

/** Writes a netlist file; `readNetlistFile` gives back exactly the same. */
export function writeNetlist({ name, netlist, portNames }: NetlistFile): string {
	const whole = {
		'faint echo netlist': NETLIST_FILE_VERSION,
		name,
		...circuitWritten({ netlist, portNames })
	};
	const document = new Document(whole, { aliasDuplicateObjects: false });
	// one element, probe or switch a line
	for (const [key, list] of [
		['elements', netlist.elements],
		['probes', netlist.probes],
		['switches', netlist.switches ?? []]
	] as const)
		for (const entry of list) {
			const written = document.getIn([key, entry.name], true);
			if (isCollection(written)) written.flow = true;
		}
	return document.toString({ lineWidth: 0 });
}
