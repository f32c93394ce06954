import { damagedNetlist } from '#lib/circuit/damage.ts';
import type { BenchDocument } from './command.ts';
import type { CircuitDevice, Device } from './device-schema.ts';
import { DEVICE, REFLECTOMETER } from './history.ts';
import type { Damage, DamageEvent, History, HistoryEvent } from './history.ts';
import type { Pad, Part } from './part-schema.ts';
import type { Setup } from './setup.ts';

/** What has been broken on a bench, and what the bench is like since. */

/** What is broken after one more event. */
export function damageAfter(standing: readonly DamageEvent[], event: HistoryEvent): readonly DamageEvent[] {
	if (event.kind === 'damage') return [...standing, event];
	if (event.kind === 'part replaced') return standing.filter(({ part }) => part !== event.part);
	return standing;
}

/** Damage that is still there: all since the part was last replaced, oldest first. */
export const damageOf = (events: History['events']): readonly DamageEvent[] =>
	events.reduce<readonly DamageEvent[]>(damageAfter, []);

/** Whether a broken part is on the bench; another device in its place is whole. */
export function concerns({ part, name }: Damage, setup: Setup): boolean {
	if (part === DEVICE) return name === setup.device.name;
	return part === REFLECTOMETER || setup.parts.some(({ id }) => id === part);
}

/** What of the bench is broken now, oldest first. */
export const brokenOn = ({ setup, history }: BenchDocument): readonly DamageEvent[] =>
	damageOf(history.events).filter((damage) => concerns(damage, setup));

/** Whether the device is broken and what it presents since is not known. */
export const isUnknown = (device: Device, damage: readonly Damage[]): boolean =>
	damage.some(
		({ part, name, element }) =>
			part === DEVICE && name === device.name && (device.kind !== 'circuit' || element === null)
	);

/**
 * A burnt pad: the resistor at its end toward the device has gone open, the middle one has drifted (common practice, no source:
 * a film resistor that is overheated rises, then opens). Invented values.
 */
const BURNT = { series: 0.3, open: 1e4 };
/** A reflectometer driven into its port: more of the wave leaks past, and its receiver is deaf by so much, dB. Invented. */
const HURT = { directivity: 14, sourceMatch: 10, tracking: -9, floor: 22 };
const LARGEST_ERROR = -6;

function brokenDevice(device: CircuitDevice, elements: readonly string[]): CircuitDevice {
	const { circuit, limits } = device;
	return {
		...device,
		circuit: { ...circuit, netlist: damagedNetlist(circuit.netlist, elements) },
		limits: {
			inputPower: null,
			junctions: limits.junctions.filter(({ element }) => !elements.includes(element))
		}
	};
}

const burnt = (pad: Pad): Pad => ({
	...pad,
	resistorErrors: [pad.resistorErrors[0], BURNT.series, BURNT.open],
	powerRating: Infinity
});

type Line = Pick<Setup, 'parts' | 'port' | 'receiver'>;

/** The reflectometer and its line as they stand. The same object if nothing of them is broken. */
export function lineAsItStands<L extends Line>(line: L, damage: readonly Damage[]): L {
	const isBurnt = (part: Part): part is Pad =>
		part.kind === 'pad' && damage.some((harm) => harm.part === part.id);
	const hurt = damage.some(({ part }) => part === REFLECTOMETER);
	if (!hurt && !line.parts.some(isBurnt)) return line;
	const { parts, port, receiver } = line;
	const larger = (error: { size: number; delay: number }, by: number) => ({
		...error,
		size: Math.min(LARGEST_ERROR, error.size + by)
	});
	return {
		...line,
		parts: parts.map((part): Part => (isBurnt(part) ? burnt(part) : part)),
		...(hurt && {
			port: {
				directivity: larger(port.directivity, HURT.directivity),
				sourceMatch: larger(port.sourceMatch, HURT.sourceMatch),
				tracking: { ...port.tracking, size: port.tracking.size + HURT.tracking },
				absoluteMaximum: Infinity
			},
			receiver: { ...receiver, floor: receiver.floor + HURT.floor }
		})
	};
}

/** The bench as it stands: the setup with everything broken as it is now. The same setup if nothing on it is broken. */
export function asItStands(setup: Setup, damage: readonly Damage[]): Setup {
	const line = lineAsItStands(setup, damage);
	const { device } = setup;
	const elements = damage.flatMap((harm) =>
		harm.part === DEVICE && harm.element !== null && concerns(harm, setup) ? [harm.element] : []
	);
	if (device.kind !== 'circuit' || elements.length === 0) return line;
	return { ...line, device: brokenDevice(device, elements) };
}
