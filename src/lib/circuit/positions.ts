import { faults } from './faults.ts';
import type { Element, Netlist, Switch } from './netlist.ts';

/** Which position every switch of a circuit is in, by the name of the switch. */
export type Positions = Readonly<Record<string, string>>;

/** The switches of a circuit. */
export const switchesOf = (netlist: Netlist): readonly Switch[] => netlist.switches ?? [];

/** Every switch in its first position. */
export const usualPositions = (netlist: Netlist): Positions =>
	Object.fromEntries(switchesOf(netlist).map(({ name, positions }) => [name, positions[0]]));

/** All the ways the switches can stand, the usual one first; a single empty one for a circuit without switches. */
export const allPositions = (netlist: Netlist): readonly Positions[] =>
	switchesOf(netlist).reduce<readonly Positions[]>(
		(before, { name, positions }) =>
			before.flatMap((others) => positions.map((position) => ({ ...others, [name]: position }))),
		[{}]
	);

/** Throws `circuit-switch-unknown` or `circuit-position-unknown` if the circuit has no such switch or position. */
export function checkPosition(netlist: Netlist, place: string, name: string, position: string): void {
	const switches = switchesOf(netlist);
	const found = switches.find((candidate) => candidate.name === name);
	if (!found) {
		const known = switches.map((candidate) => candidate.name).join(', ') || 'it has none';
		throw faults['circuit-switch-unknown']({ place, switch: name, known });
	}
	if (!found.positions.includes(position))
		throw faults['circuit-position-unknown']({
			place,
			switch: name,
			position,
			known: found.positions.join(', ')
		});
}

/** What an element is with the switches in their positions; none for an open contact without capacitance. */
function settled(element: Element, positions: Positions): readonly Element[] {
	if (element.kind === 'supply' && element.switch !== undefined) {
		const { kind, name, from, to, voltage } = element;
		const on = element.onIn?.includes(positions[element.switch]) ?? true;
		return [{ kind, name, from, to, voltage: on ? voltage : 0 }];
	}
	if (element.kind !== 'relay') return [element];
	const { name, from, to, contactResistance, openCapacitance } = element;
	if (element.closedIn.includes(positions[element.switch]))
		return [{ kind: 'resistor', name, from, to, resistance: contactResistance }];
	if (openCapacitance === 0) return [];
	return [{ kind: 'capacitor', name, from, to, capacitance: openCapacitance, seriesResistance: 0 }];
}

/**
 * The same circuit with its switches in `positions` (the usual position for one that is not named), which has neither
 * switches nor relays: a closed contact is a resistor, an open one a capacitor or nothing, a supply has its voltage or 0 V.
 * A circuit without switches comes back as it is. Throws `circuit-switch-unknown` or `circuit-position-unknown`, naming
 * what is allowed.
 */
export function inPositions(netlist: Netlist, positions: Positions = {}): Netlist {
	for (const [name, position] of Object.entries(positions))
		checkPosition(netlist, 'switches', name, position);
	if (!netlist.switches) return netlist;
	const { switches, elements, ...rest } = netlist;
	const all = { ...usualPositions({ ...rest, elements, switches }), ...positions };
	return { ...rest, elements: elements.flatMap((element) => settled(element, all)) };
}
