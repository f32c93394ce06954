import { at, magnitude } from '#lib/numeric/complex.ts';
import type { ComplexArray } from '#lib/numeric/complex.ts';
import { dbFromRatio, dbmFromWatts } from '#lib/numeric/decibel.ts';
import { returnLossDb } from '#lib/network/impedance.ts';
import { floorLevelDbm } from '#lib/reflectometer/noise.ts';
import type { MarkerPlant } from './compile.ts';
import type { DriveCurve, LevelDiagram } from './picture.ts';
import type { Setup } from './setup.ts';

/** An echo below this part of the wave that went out is rounding. */
const ROUNDING = 1e-12;

/** The two limits of a device at its connector, dBm; null where nothing is known. */
interface Limits {
	/** Up to here it answers as at small signal. */
	readonly ceiling: number | null;
	/** From here on it breaks. */
	readonly breaking: number | null;
}

/** Of a known circuit they are worked out, of a black box they are those of its data sheet. */
export function limitsOf(device: Setup['device'], drive: DriveCurve | null): Limits {
	if (drive !== null) return drive;
	if (device.kind !== 'tabulated') return { ceiling: null, breaking: null };
	return { ceiling: device.ceiling, breaking: device.absoluteMaximum };
}

/**
 * Levels and walls at one marker, in dBm. The levels are those of the waves themselves. A wall is carried along the line
 * by the loss between it and the plane: the ceiling toward the source, the floor toward the device.
 */
export function levelDiagram(
	plant: MarkerPlant,
	marker: number,
	setup: Setup,
	effective: number
): LevelDiagram {
	const size = (wave: ComplexArray): number => magnitude(at(wave, marker));
	const level = (amplitude: number): number => dbmFromWatts(amplitude ** 2);
	const outgoing = plant.waves.map((plane) => level(size(plane.outgoing)));
	// what is left of a perfect match by rounding is no echo
	const returning = plant.waves.map((plane) => {
		const back = size(plane.returning);
		return level(back < ROUNDING * size(plane.outgoing) ? 0 : back);
	});
	const { ceiling, breaking } = limitsOf(setup.device, plant.drive?.[marker] ?? null);
	const { floor, bandwidth } = setup.receiver;
	const wall = (at: number, ways: MarkerPlant['toDevice']): number[] =>
		ways.map((way) => at - dbFromRatio(way[marker]));
	const limitWall = (limit: number | null): number[] | null =>
		limit === null ? null : wall(limit, plant.toDevice);
	const margin = (limit: number | null): number | null =>
		limit === null ? null : limit - outgoing[outgoing.length - 1];
	const floorNow = wall(floorLevelDbm(floor, bandwidth, effective), plant.toReceiver);
	return {
		outgoing,
		returning,
		ceiling: limitWall(ceiling),
		breaking: limitWall(breaking),
		floorSingle: wall(floorLevelDbm(floor, bandwidth), plant.toReceiver),
		floor: floorNow,
		returnLossDb: returnLossDb(magnitude(at(plant.device.gamma, marker))),
		ceilingMargin: margin(ceiling),
		breakingMargin: margin(breaking),
		// at the device, since what the parts before it reflect says nothing of the device
		floorMargin: returning[returning.length - 1] - floorNow[floorNow.length - 1]
	};
}
