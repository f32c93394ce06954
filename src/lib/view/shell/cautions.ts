import { asItStands } from '#lib/bench/damage.ts';
import type { CircuitDevice } from '#lib/bench/device-schema.ts';
import type { CommandRecord } from '#lib/bench/command.ts';
import { REFLECTOMETER } from '#lib/bench/history.ts';
import type { Damage } from '#lib/bench/history.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { positionOf, usualPosition } from '#lib/bench/switches.ts';
import { isTransmitting, transmission } from '#lib/bench/transmit.ts';
import { wattsFromDbm } from '#lib/numeric/decibel.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import { level, shown } from '#lib/view/numbers.ts';
import type { Selection } from '#lib/view/selection.ts';

/** Something on the bench that is armed: it has harmed, or a touch would. */
export interface Caution {
	/** Changes with what is armed. */
	readonly id: string;
	/** What is armed, set in bold. */
	readonly armed: string;
	/** What would happen, or happens. */
	readonly consequence: string;
	/** What makes it safe. */
	readonly safe: {
		readonly label: string;
		/** Where that leads, for a button with room. */
		readonly to: string;
		readonly command: CommandRecord;
	};
	/** Where on the line. */
	readonly selection: Selection;
}

/** Said before a transmitter is keyed. A simulation gives no leave to do it anywhere else. */
export const REAL_BENCH =
	'On a real bench: keep a transmitter unplugged, not merely disarmed; never key it into an instrument; ' +
	'a pad at 10 W burns; local rules and licensed practice come first.';

const watts = (dbm: number): string =>
	shown(formatQuantity(Number(wattsFromDbm(dbm).toPrecision(2)), 'power'));

/** The bench with the transmitter of its device keyed. */
function keyed(setup: Setup, device: CircuitDevice): Setup {
	const { transmitter } = device;
	if (transmitter === null) return setup;
	const positions = { ...device.positions, [transmitter.switch]: transmitter.position };
	return { ...setup, device: { ...device, positions } };
}

/** What a transmitter would break, one after the other, as each leaves more to the next. */
function broken(setup: Setup, damage: readonly Damage[]): Damage[] {
	const found = transmission(asItStands(setup, damage))?.damage ?? null;
	return found === null ? [] : [found, ...broken(setup, [...damage, found])];
}

const limitWords = ({ name, crossed: { quantity, limit } }: Damage): string =>
	quantity === 'dissipation'
		? `${name} (${shown(formatQuantity(limit, 'power'))} at most)`
		: `the port of the ${name.toLowerCase()} (${shown(formatQuantity(limit, 'level'))} at most)`;

/** What the device's transmitter would do to the bench, or does. Null without one. */
export function keyingWords(setup: Setup, damage: readonly Damage[], mood: 'would' | 'does'): string | null {
	if (setup.device.kind !== 'circuit') return null;
	const after = keyed(setup, setup.device);
	const found = transmission(asItStands(after, damage));
	if (found === null) return null;
	const would = mood === 'would';
	const goes = `${watts(found.leaving)} ${would ? 'would go' : 'goes'} back along the line toward the reflectometer`;
	const victims = broken(after, damage).map(limitWords);
	if (victims.length > 0) return `${goes} and ${would ? 'break' : 'breaks'} ${victims.join(', then ')}.`;
	const meets = `${level(found.level, 1)} ${would ? 'would meet' : 'meets'} its port`;
	const portBroken = damage.some(({ part }) => part === REFLECTOMETER);
	const rest = portBroken
		? 'Nothing more breaks.'
		: damage.length > 0
			? 'What is left stands it.'
			: 'All parts stand it.';
	return `${goes}: ${meets}. ${would ? '' : rest}`.trim();
}

/** What is armed on the bench, the worst first. */
export function cautionsOf(setup: Setup, damage: readonly Damage[]): Caution[] {
	const { device } = setup;
	if (device.kind !== 'circuit' || device.transmitter === null) return [];
	const { switch: name } = device.transmitter;
	const usual = usualPosition(device, name);
	const position = positionOf(device, name);
	if (usual === undefined || position === usual) return [];
	const on = isTransmitting(device);
	return [
		{
			id: `transmitter ${position}`,
			armed: on ? 'Transmitter keyed.' : 'Transmit path armed.',
			consequence: `${on ? '' : 'If it is keyed, '}${keyingWords(setup, damage, on ? 'does' : 'would') ?? ''}`,
			safe: {
				label: on ? 'Unkey' : 'Disarm',
				to: `back to ${usual}`,
				command: { name: 'set switch', arguments: { switch: name, position: usual } }
			},
			selection: 'device'
		}
	];
}
