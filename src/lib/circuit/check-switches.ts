import { Fault } from '#lib/fault.ts';
import { checkConnections } from './connections.ts';
import { faults } from './faults.ts';
import { isGround, nodesOf } from './netlist.ts';
import type { Element, Netlist } from './netlist.ts';
import { allPositions, checkPosition, inPositions } from './positions.ts';
import type { Positions } from './positions.ts';

/** Ways the switches of a circuit can stand; in every one of them the circuit is looked through. */
const MOST_POSITIONS = 64;

const repeated = (names: readonly string[]): string | undefined =>
	names.find((name, i) => names.indexOf(name) !== i);

function wrong(place: string, finding: string, remedy: string): never {
	throw faults['circuit-switch']({ place, finding, remedy });
}

/** The switch an element follows and the positions it names, or undefined for one that follows none. */
function followed(
	element: Element
): { readonly name: string; readonly positions: readonly string[] } | undefined {
	if (element.kind === 'relay') return { name: element.switch, positions: element.closedIn };
	if (element.kind !== 'supply') return undefined;
	if (element.switch !== undefined) return { name: element.switch, positions: element.onIn ?? [] };
	if (element.onIn !== undefined)
		wrong(element.name, 'It is on in some positions, but of no switch', 'Name the switch it follows');
	return undefined;
}

/**
 * Throws a fault if a switch has fewer than two positions or a name or position twice, if there are too many ways for
 * the switches to stand, or if a relay or supply names a switch or position that is not there.
 */
export function checkSwitches(netlist: Netlist): void {
	const switches = netlist.switches ?? [];
	const twice = repeated(switches.map(({ name }) => name));
	if (twice !== undefined)
		wrong(`switch ${twice}`, 'Two switches have this name', 'Give every switch a name of its own');
	let ways = 1;
	for (const { name, positions } of switches) {
		const place = `switch ${name}`;
		if (positions.length < 2)
			wrong(
				place,
				`It has ${positions.length === 0 ? 'no position' : 'only one position'}`,
				'Give at least two, the usual one first'
			);
		const same = repeated(positions);
		if (same !== undefined)
			wrong(place, `Its position “${same}” stands there twice`, 'Name every position once');
		ways *= positions.length;
	}
	if (ways > MOST_POSITIONS)
		wrong(
			'switches',
			`They can stand in ${ways} ways`,
			`Give switches and positions for at most ${MOST_POSITIONS} in all`
		);
	for (const element of netlist.elements) {
		const follows = followed(element);
		if (!follows) continue;
		if (follows.positions.length === 0)
			wrong(
				element.name,
				'It names no position of its switch',
				`Name those in which it is ${element.kind === 'relay' ? 'closed' : 'on'}`
			);
		for (const position of follows.positions) checkPosition(netlist, element.name, follows.name, position);
	}
}

/** The fault of a circuit with its switches set: a port or probe left alone by open contacts, or what connections it has. */
function faultOf(netlist: Netlist): Fault | undefined {
	try {
		const nodes = new Set(netlist.elements.flatMap(nodesOf));
		netlist.ports.forEach((node, i) => {
			if (!nodes.has(node)) throw faults['circuit-node-alone']({ place: `port ${i + 1}`, node });
		});
		for (const probe of netlist.probes)
			if (probe.kind === 'voltage' && !nodes.has(probe.node) && !isGround(probe.node))
				throw faults['circuit-node-alone']({ place: `probe ${probe.name}`, node: probe.node });
		checkConnections(netlist);
		return undefined;
	} catch (fault) {
		if (fault instanceof Fault) return fault;
		throw fault;
	}
}

const positionWords = (positions: Positions): string =>
	Object.entries(positions)
		.map(([name, position]) => `“${name}” in “${position}”`)
		.join(' and ');

/**
 * Throws a fault if in any position of the switches a port or probe is left alone, a node floats, a supply is shorted or
 * a loop has no resistance (see `checkConnections`). Where that is so only in some positions, the fault says in which.
 */
export function checkEveryPosition(netlist: Netlist): void {
	const found = allPositions(netlist).map((positions) => ({
		positions,
		fault: faultOf(inPositions(netlist, positions))
	}));
	const bad = found.find(({ fault }) => fault !== undefined);
	if (!bad?.fault) return;
	if (found.every(({ fault }) => fault !== undefined)) throw bad.fault;
	const { code, place, finding, remedy } = bad.fault;
	throw new Fault(code, place, `With ${positionWords(bad.positions)}: ${finding}`, remedy);
}
