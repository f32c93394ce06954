import type { CircuitDevice } from '#lib/bench/device-schema.ts';
import { switchesOf } from '#lib/bench/switches.ts';
import type { Element } from '#lib/circuit/netlist.ts';
import { hasOutput } from './section.ts';

/** What the section of a front end shows it to be for. */
export type DeviceFunction =
	| 'amplifier'
	| 'bypassed amplifier'
	| 'high-impedance input'
	| 'detector'
	| 'limiter'
	| 'tuned circuit'
	| 'crystal'
	| 'network';

/** What a circuit is for, as far as its elements tell: the first of these kinds that is in it. */
export function functionOf(device: CircuitDevice): DeviceFunction {
	const { elements } = device.circuit.netlist;
	const has = (kind: Element['kind']) => elements.some((element) => element.kind === kind);
	if (has('quartz crystal')) return 'crystal';
	if (has('junction field-effect transistor')) return 'high-impedance input';
	if (has('bipolar transistor')) return device.transmitter === null ? 'amplifier' : 'bypassed amplifier';
	if (has('varactor')) return 'tuned circuit';
	if (has('diode')) return hasOutput(device) ? 'limiter' : 'detector';
	return 'network';
}

/** Every switch and where it stands, in words: 'supply on', but 'receive' where the position says it by itself. */
export function positionWords(device: CircuitDevice, unusualOnly = false): string[] {
	return switchesOf(device).flatMap(({ name, positions }) => {
		const position = device.positions[name] ?? positions[0];
		if (unusualOnly && position === positions[0]) return [];
		return [['on', 'off'].includes(position) ? `${name} ${position}` : position];
	});
}
