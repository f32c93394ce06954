import type { Switch } from '#lib/circuit/netlist.ts';
import { switchesOf as switchesOfNetlist, usualPositions } from '#lib/circuit/positions.ts';
import type { Positions } from '#lib/circuit/positions.ts';
import type { CircuitDevice, Device } from './device-schema.ts';

/** The switches of a device and how they stand. */

/** None for a device of which no circuit is known. */
export const switchesOf = (device: Device): readonly Switch[] =>
	device.kind === 'circuit' ? switchesOfNetlist(device.circuit.netlist) : [];

/** Of every switch, also of those that stand as usual. */
export const positionsOf = ({ circuit, positions }: CircuitDevice): Positions => ({
	...usualPositions(circuit.netlist),
	...positions
});

/** The usual position of a switch, its first; undefined if the device has no such switch. */
export const usualPosition = (device: CircuitDevice, name: string): string | undefined =>
	switchesOf(device).find((each) => each.name === name)?.positions[0];

/** Where a switch stands; undefined if the device has no such switch. */
export function positionOf(device: CircuitDevice, name: string): string | undefined {
	const usual = usualPosition(device, name);
	return usual && (device.positions[name] ?? usual);
}
