import type { ConvergedPoint } from './driven-point.ts';
import type { Positions } from './positions.ts';

/** What the data sheet of a front end allows at most; beyond it the front end is harmed. */
export interface Limits {
	/** Incident at port 1, dBm; null if the data sheet states none. */
	readonly inputPower: number | null;
	/** Positions of a switch in which the input power meets what it can harm; any if left out. */
	readonly inputPowerIn?: { readonly switch: string; readonly positions: readonly string[] };
	readonly junctions: readonly JunctionLimit[];
}

/** What one junction of a device bears at any instant of a period. */
export interface JunctionLimit {
	/** Name of the device in the circuit. */
	readonly element: string;
	/** Which of its ports, as the device's law names it, such as `base-emitter`. */
	readonly port: string;
	/** V against the direction of conduction, a positive number; null for no limit. */
	readonly reverseVoltage: number | null;
	/** A of conduction current either way, peak; null for no limit. */
	readonly current: number | null;
}

/** A limit and what is reached of it; dBm, V or A. */
export interface Strain {
	/** The device, or null for the input power. */
	readonly element: string | null;
	readonly port: string | null;
	readonly quantity: 'input power' | 'reverse voltage' | 'current';
	readonly limit: number;
	readonly reached: number;
}

/** The limits that hold with the switches of a circuit in `positions`. */
export function limitsIn(limits: Limits, positions: Positions): Limits {
	const holds = limits.inputPowerIn;
	return holds && !holds.positions.includes(positions[holds.switch])
		? { ...limits, inputPower: null }
		: limits;
}

/** What a driven circuit bears at a point: the input power first, then the limits of the junctions in their order. */
export function strains(limits: Limits, point: ConvergedPoint): readonly Strain[] {
	const found: Strain[] = [];
	const compare = (
		{ element, port }: { element: string | null; port: string | null },
		quantity: Strain['quantity'],
		limit: number | null,
		reached: number
	): void => {
		if (limit !== null) found.push({ element, port, quantity, limit, reached });
	};
	compare({ element: null, port: null }, 'input power', limits.inputPower, point.incidentDbm);
	for (const limit of limits.junctions) {
		const junction = point.junctions.find(
			({ device, port }) => device === limit.element && port === limit.port
		);
		if (!junction) continue;
		compare(limit, 'reverse voltage', limit.reverseVoltage, -junction.lowest);
		compare(limit, 'current', limit.current, junction.peakCurrent);
	}
	return found;
}

/** The limits that a driven circuit exceeds at a point. */
export const crossings = (limits: Limits, point: ConvergedPoint): readonly Strain[] =>
	strains(limits, point).filter(({ limit, reached }) => reached > limit);
