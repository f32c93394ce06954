import { at, complexArray, magnitude, put } from '#lib/numeric/complex.ts';
import { dbmFromWatts, wattsFromDbm } from '#lib/numeric/decibel.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import { inPositions } from '#lib/circuit/positions.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { planeWaves } from '#lib/network/waves.ts';
import type { TwoPort } from '#lib/network/two-port.ts';
import { portErrorTerms } from '#lib/reflectometer/error-terms.ts';
import type { Device } from './device-schema.ts';
import { burntPower, firstOver } from './dissipation.ts';
import { REFLECTOMETER } from './history.ts';
import type { Damage } from './history.ts';
import { partTwoPort, sweepFrequencies } from './plant.ts';
import type { Setup } from './setup.ts';
import { positionOf } from './switches.ts';

/** Whether a device's transmitter is keyed toward the line. */
export const isTransmitting = (device: Device): boolean =>
	device.kind === 'circuit' &&
	device.transmitter !== null &&
	positionOf(device, device.transmitter.switch) === device.transmitter.position;

/** What a keyed transmitter does to the bench. */
export interface Transmission {
	/** Level that leaves the device's connector, dBm. */
	readonly leaving: number;
	/** Power burnt in every part, W, from the reflectometer on. */
	readonly burnt: readonly number[];
	/** Level that meets the reflectometer's port, dBm. */
	readonly level: number;
	/** What it breaks first: the part nearest the device that is over its rating, and the port only if none is. */
	readonly damage: Damage | null;
}

/** A part as seen from its other end. */
const turned = ({ s11, s12, s21, s22 }: TwoPort): TwoPort => ({ s11: s22, s12: s21, s21: s12, s22: s11 });

/**
 * The waves of a transmitter keyed into the line instead of an antenna, at the centre of the sweep: from the device's
 * connector back through every part to the reflectometer's port, re-reflections included. Null if none is keyed.
 */
export function transmission({
	device,
	parts,
	port,
	sweep
}: Pick<Setup, 'device' | 'parts' | 'port' | 'sweep'>): Transmission | null {
	if (device.kind !== 'circuit' || device.transmitter === null || !isTransmitting(device)) return null;
	const { circuit, positions, transmitter } = device;
	const frequencies = sweepFrequencies(sweep);
	const frequency = Float64Array.of((frequencies[0] + frequencies[frequencies.length - 1]) / 2);
	const s = smallSignal(equationsOf(inPositions(circuit.netlist, positions)), frequency);
	const from = circuit.portNames.indexOf(transmitter.port);
	const source = complexArray(1);
	put(source, 0, {
		re: Math.sqrt(wattsFromDbm(transmitter.level)) * s[0][from].re[0],
		im: Math.sqrt(wattsFromDbm(transmitter.level)) * s[0][from].im[0]
	});
	const solved = parts.map((part) => turned(partTwoPort(part, frequency))).reverse();
	const waves = planeWaves(solved, {
		source,
		sourceGamma: s[0][0],
		endGamma: portErrorTerms(port, frequency).sourceMatch
	});
	const level = dbmFromWatts(magnitude(at(waves[waves.length - 1].outgoing, 0)) ** 2);
	const burnt = burntPower(waves, 0);
	const damage =
		firstOver([...parts].reverse(), burnt, frequency[0], 'transmitter') ??
		(level > port.absoluteMaximum
			? {
					part: REFLECTOMETER,
					name: 'Reflectometer',
					element: null,
					crossed: { quantity: 'input power' as const, limit: port.absoluteMaximum, reached: level },
					frequency: frequency[0],
					cause: 'transmitter' as const
				}
			: null);
	const leaving = dbmFromWatts(magnitude(at(waves[0].outgoing, 0)) ** 2);
	return { leaving, burnt: burnt.reverse(), level, damage };
}
