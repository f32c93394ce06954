import type { CircuitDevice, Device } from '#lib/bench/device-schema.ts';
import type { DriveCurve, PictureMarker } from '#lib/bench/picture.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import type { QuantityKind } from '#lib/bench/quantity.ts';
import type { Setup } from '#lib/bench/setup.ts';
import { limitsIn } from '#lib/circuit/limits.ts';
import { usualPositions } from '#lib/circuit/positions.ts';
import { wattsFromDbm } from '#lib/numeric/decibel.ts';
import { decibels, frequency, level, shown } from '#lib/view/numbers.ts';

/** A line of a data sheet: what, and how much. */
export interface DataLine {
	readonly what: string;
	readonly value: string;
}

const words = (value: number, kind: QuantityKind): string => shown(formatQuantity(value, kind));

/** What the data sheet of a circuit allows, and its transmitter. */
function circuitLines({ limits, transmitter }: CircuitDevice): DataLine[] {
	return [
		...(limits.inputPower === null
			? []
			: [
					{
						what: 'Input at most',
						value:
							words(limits.inputPower, 'level') +
							(limits.inputPowerIn
								? `, with ${limits.inputPowerIn.switch} in ${limits.inputPowerIn.positions.join(' or ')}`
								: '')
					}
				]),
		...limits.junctions.map(({ element, port, reverseVoltage, current }) => ({
			what: `${element}, ${port}`,
			value: [
				...(reverseVoltage === null ? [] : [`${words(reverseVoltage, 'voltage')} in reverse`]),
				...(current === null ? [] : [`${words(current, 'current')} peak`])
			].join(', ')
		})),
		...(transmitter === null
			? []
			: [
					{
						what: 'Transmitter',
						value:
							`${words(transmitter.level, 'level')}, ` +
							words(Number(wattsFromDbm(transmitter.level).toPrecision(3)), 'power')
					}
				])
	];
}

/**
 * What is known of a device beside its data: limits of its data sheet, and what is worked out at the chosen marker: of a broken
 * one no more what would break it.
 */
export function deviceLines(device: Device, marker: PictureMarker | null, broken = false): DataLine[] {
	if (device.kind === 'tabulated')
		return [
			...(device.compression === null
				? []
				: [{ what: 'Gain 1 dB down at', value: words(device.compression, 'level') }]),
			...(device.absoluteMaximum === null
				? []
				: [{ what: 'Input at most', value: words(device.absoluteMaximum, 'level') }])
		];
	if (device.kind !== 'circuit') return [];
	const drive = marker?.drive;
	if (!marker || !drive) return circuitLines(device);
	const at = frequency(marker.reading.frequency);
	return [
		...circuitLines(device),
		{
			what: `Ceiling at ${at}`,
			value: drive.ceiling === null ? noCeiling(drive) : level(drive.ceiling, 1)
		},
		...(broken
			? []
			: [
					{
						what: 'Breaks at',
						value: drive.breaking === null ? noBreaking(device, drive) : level(drive.breaking, 1)
					}
				])
	];
}

/** A curve that ends early does not tell that nothing moves above. */
const noCeiling = ({ followed, levels }: DriveCurve): string =>
	followed
		? 'none: it does not move so far'
		: `not known: no state was found above ${level(levels.at(-1) ?? -Infinity, 1)}`;

/** Without a limit that holds as its switches stand, no level is known to break it; with one, none up to the last. */
function noBreaking({ limits, circuit, positions }: CircuitDevice, { followed, levels }: DriveCurve): string {
	const { inputPower, junctions } = limitsIn(limits, { ...usualPositions(circuit.netlist), ...positions });
	if (inputPower === null && junctions.length === 0)
		return limits.inputPower === null ? 'not known: no data sheet' : 'not known in this position';
	const none = `no level up to ${level(levels.at(-1) ?? -Infinity, 1)}`;
	return followed ? none : `${none}; not known above`;
}

/** What the reflectometer's data sheet says of its receiver, its port and its source. */
export function reflectometerLines({ port, source, receiver }: Setup): DataLine[] {
	const { second, third } = source.harmonics;
	const harmonics = [
		...(second === null ? [] : [`second ${words(second, 'attenuation')}`]),
		...(third === null ? [] : [`third ${words(third, 'attenuation')}`])
	];
	const { amplitude, phase, bandwidth } = receiver.traceNoise;
	return [
		{ what: 'Receiver floor', value: words(receiver.floor, 'noise density') },
		{
			what: `Trace noise in ${words(bandwidth, 'frequency')}`,
			value: `${decibels(amplitude, 4)}, ${words(phase, 'angle')}`
		},
		{ what: 'Into its port at most', value: words(port.absoluteMaximum, 'level') },
		{ what: 'Harmonics of the source', value: harmonics.join(', ') || 'none' }
	];
}
