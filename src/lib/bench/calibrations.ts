import { damageAfter, lineAsItStands } from './damage.ts';
import type { Damage, DamageEvent, History, StandardEvent } from './history.ts';
import type { FrozenSetup } from './setup.ts';

/** A calibration as its events tell it: all the standards measured for it, and what they were measured with. */
export interface Calibration {
	readonly id: string;
	readonly plane: number;
	readonly averages: number;
	/** Bench time of its last standard, s. */
	readonly at: number;
	/** What it was measured with, as it stood then. */
	readonly setup: FrozenSetup;
	readonly standards: readonly StandardEvent[];
}

/** Every calibration of a history that has all three standards, oldest first. */
export function calibrations(from: History): Calibration[] {
	const groups = new Map<string, StandardEvent[]>();
	const brokenThen = new Map<string, readonly Damage[]>();
	let broken: readonly DamageEvent[] = [];
	for (const e of from.events) {
		broken = damageAfter(broken, e);
		if (e.kind !== 'standard measured') continue;
		groups.set(e.calibration, [...(groups.get(e.calibration) ?? []), e]);
		brokenThen.set(e.calibration, broken);
	}
	return [...groups].flatMap(([id, events]) => {
		if (new Set(events.map((e) => e.standard)).size < 3) return [];
		const last = events[events.length - 1];
		const frozen = from.setups.at(last.setup);
		if (frozen === undefined) return [];
		return [
			{
				id,
				plane: last.plane,
				averages: Math.min(...events.map((e) => e.count)),
				at: last.at,
				setup: lineAsItStands(frozen, brokenThen.get(id) ?? []),
				standards: events
			}
		];
	});
}
