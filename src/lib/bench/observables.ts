import type { Complex, ComplexArray } from '#lib/numeric/complex.ts';
import { voltsFromDbm } from '#lib/numeric/decibel.ts';
import { impedanceFromGamma, returnLossDb, swr } from '#lib/network/impedance.ts';
import type { BenchDocument } from './command.ts';
import { brokenOn } from './damage.ts';
import { faults } from './faults.ts';
import { calibrations } from './calibrations.ts';
import type { Picture } from './picture.ts';
import type { QuantityKind } from './quantity.ts';
import { baseUnit } from './quantity.ts';
import { positionOf, switchesOf } from './switches.ts';

/** What a bench can be asked for by name: in lesson conditions, and by the command line. */
export interface BenchState extends BenchDocument {
	readonly picture: Picture;
	/** Whether the truth is shown. */
	readonly revealed: boolean;
}

export type ObservableKind = QuantityKind | 'boolean' | 'text';

export interface Observable {
	readonly name: string;
	readonly arguments: readonly { readonly name: string; readonly kind: ObservableKind }[];
	readonly kind: ObservableKind;
	readonly meaning: string;
	readonly read: (
		state: BenchState,
		args: readonly (number | string | boolean)[]
	) => number | boolean | string;
}

const FREQUENCY = [{ name: 'frequency', kind: 'frequency' }] as const;

/** Γ at a frequency in Hz, on a straight line between the two nearest points of the sweep. */
function gammaAt(name: string, picture: Picture, values: ComplexArray, frequency: unknown): Complex {
	const f = picture.frequencies;
	const last = f.length - 1;
	// a frequency written in MHz may miss the edge by rounding
	const slack = 1e-9 * f[last];
	if (!(typeof frequency === 'number' && frequency >= f[0] - slack && frequency <= f[last] + slack))
		throw faults['observable-argument']({
			name,
			found: `${String(frequency)} Hz`,
			allowed: `Ask for a frequency from ${f[0]} Hz to ${f[last]} Hz, where the sweep is.`
		});
	if (last === 0) return { re: values.re[0], im: values.im[0] };
	const position = Math.min(Math.max(((frequency - f[0]) / (f[last] - f[0])) * last, 0), last);
	const i = Math.min(Math.floor(position), last - 1);
	const share = position - i;
	const between = (row: ArrayLike<number>): number => row[i] + share * (row[i + 1] - row[i]);
	return { re: between(values.re), im: between(values.im) };
}

type Source = 'displayed' | 'expected' | 'truth' | 'driven';

const MEANINGS: Readonly<Record<Source, string>> = {
	displayed: 'of the averaged reading at the reference plane',
	expected: 'of the reading as it would be without receiver noise in this measurement',
	truth: 'of the device itself, at its own connector, at a level too small to move it',
	driven: 'of the device itself, at its own connector, at the present level'
};

const gammaObservables = (source: Source): Observable[] => {
	const one = (
		what: string,
		kind: ObservableKind,
		meaning: string,
		of: (gamma: Complex) => number
	): Observable => {
		const name = `${source}.${what}`;
		return {
			name,
			arguments: FREQUENCY,
			kind,
			meaning: `${meaning} ${MEANINGS[source]}.`,
			read: ({ picture }, [frequency]) => of(gammaAt(name, picture, picture[source], frequency))
		};
	};
	const size = (gamma: Complex): number => Math.hypot(gamma.re, gamma.im);
	return [
		one('R', 'resistance', 'Resistance', (g) => impedanceFromGamma(g).re),
		one('X', 'resistance', 'Reactance', (g) => impedanceFromGamma(g).im),
		one('gamma', 'number', 'Size of the reflection coefficient', size),
		one('gammaReal', 'number', 'Real part of the reflection coefficient', (g) => g.re),
		one('gammaImaginary', 'number', 'Imaginary part of the reflection coefficient', (g) => g.im),
		one('returnLoss', 'attenuation', 'Return loss (positive)', (g) => returnLossDb(size(g))),
		one('swr', 'number', 'Standing-wave ratio', (g) => swr(size(g)))
	];
};

const plain = (
	name: string,
	kind: ObservableKind,
	meaning: string,
	of: (state: BenchState) => number | boolean | string
): Observable => ({ name, arguments: [], kind, meaning, read: (state) => of(state) });

const centre = (state: BenchState) => state.picture.markers[1];
const lastOf = (values: readonly number[]): number => values[values.length - 1];

/** Of values over rising places, on a straight line between two and held at the ends. */
function interpolated(places: ArrayLike<number>, values: ArrayLike<number>, wanted: number): number {
	const last = places.length - 1;
	let i = 1;
	while (i < last && places[i] < wanted) i++;
	const share = Math.min(1, Math.max(0, (wanted - places[i - 1]) / (places[i] - places[i - 1])));
	return values[i - 1] + share * (values[i] - values[i - 1]);
}

/** The pads of the line taken together, in dB; 0 without any. */
const padAttenuation = ({ setup }: BenchState): number =>
	setup.parts.reduce((sum, p) => sum + (p.kind === 'pad' ? p.attenuation : 0), 0);

/** The cables of the line taken together, in m; 0 without any. */
const cableLength = ({ setup }: BenchState): number =>
	setup.parts.reduce((sum, p) => sum + (p.kind === 'cable' ? p.length : 0), 0);

const list: readonly Observable[] = [
	...gammaObservables('displayed'),
	...gammaObservables('expected'),
	...gammaObservables('truth'),
	...gammaObservables('driven'),
	{
		name: 'shift.gamma',
		arguments: FREQUENCY,
		kind: 'number',
		meaning: 'How far the present level moves the reflection coefficient of the device.',
		read: ({ picture }, [frequency]) => {
			const [now, rest] = [picture.driven, picture.truth].map((g) =>
				gammaAt('shift.gamma', picture, g, frequency)
			);
			return Math.hypot(now.re - rest.re, now.im - rest.im);
		}
	},
	plain(
		'gain.present',
		'attenuation',
		'Gain of the device, power into its output against incident power, at the present level; minus infinity where none is known.',
		(s) => {
			const { drive, levels } = centre(s);
			return drive?.gainDb ? interpolated(drive.levels, drive.gainDb, lastOf(levels.outgoing)) : -Infinity;
		}
	),
	plain('gain.rest', 'attenuation', 'The same at a level too small to move it.', (s) => {
		const { drive } = centre(s);
		return drive?.gainDb?.[0] ?? -Infinity;
	}),
	plain('level.set', 'level', 'Level the source is set to.', (s) => s.setup.source.level),
	plain(
		'level.source',
		'level',
		'Outgoing level at plane 0, at the centre frequency.',
		(s) => centre(s).levels.outgoing[0]
	),
	plain('level.device', 'level', 'Outgoing level at the device, at the centre frequency.', (s) =>
		lastOf(centre(s).levels.outgoing)
	),
	plain('level.deviceVolts', 'number', 'The same in volts (RMS) across 50 ohm.', (s) =>
		voltsFromDbm(lastOf(centre(s).levels.outgoing))
	),
	plain('level.echo', 'level', 'Returning level at the device, at the centre frequency.', (s) =>
		lastOf(centre(s).levels.returning)
	),
	plain(
		'level.receiver',
		'level',
		'Returning level at the receiver, at the centre frequency.',
		(s) => centre(s).levels.returning[0]
	),
	plain(
		'level.ceiling',
		'level',
		'Ceiling of the device, at its connector; infinite where none is stated.',
		(s) => lastOf(centre(s).levels.ceiling ?? [Infinity])
	),
	plain(
		'level.breaking',
		'level',
		'Level at the connector of the device that breaks it; infinite where none is known.',
		(s) => lastOf(centre(s).levels.breaking ?? [Infinity])
	),
	plain(
		'level.compression',
		'level',
		'Level at the connector of the device at which its gain has fallen by 1 dB; infinite if it never does.',
		(s) => centre(s).drive?.compression ?? Infinity
	),
	plain('level.floor', 'level', 'Receiver floor with the averages taken.', (s) => centre(s).levels.floor[0]),
	plain(
		'level.floorSingle',
		'level',
		'Receiver floor of a single reading.',
		(s) => centre(s).levels.floorSingle[0]
	),
	plain(
		'margin.ceiling',
		'attenuation',
		'How far the level at the device is below its ceiling; negative when over.',
		(s) => centre(s).levels.ceilingMargin ?? Infinity
	),
	plain(
		'margin.breaking',
		'attenuation',
		'How far the level at the device is below what breaks it; negative when over.',
		(s) => centre(s).levels.breakingMargin ?? Infinity
	),
	plain(
		'margin.floor',
		'attenuation',
		'How far the echo of the device is above the averaged floor.',
		(s) => centre(s).levels.floorMargin
	),
	plain('pad.attenuation', 'attenuation', 'All pads of the line together.', padAttenuation),
	plain('cable.length', 'length', 'All cables of the line together.', cableLength),
	plain('bandwidth', 'frequency', 'Receiver bandwidth.', (s) => s.setup.receiver.bandwidth),
	plain('averages.set', 'number', 'Averages asked for.', (s) => s.setup.processing.averages),
	plain(
		'averages.effective',
		'number',
		'Independent readings the average is worth.',
		(s) => s.picture.effectiveAverages
	),
	plain(
		'spread.gamma',
		'number',
		'95 % size of the cloud of the average, in units of the reflection coefficient.',
		(s) => centre(s).reading.spreadAverage ?? Infinity
	),
	plain(
		'spread.single',
		'number',
		'95 % size of the cloud of single readings.',
		(s) => centre(s).reading.spreadSingle ?? Infinity
	),
	plain(
		'calibration.made',
		'boolean',
		'Whether a calibration corrects the readings.',
		(s) => s.picture.correction.kind !== 'none'
	),
	plain(
		'calibration.count',
		'number',
		'Calibrations made on this bench so far.',
		(s) => calibrations(s.history).length
	),
	plain(
		'calibration.averages',
		'number',
		'Averages of each standard of the calibration in use; 0 without one.',
		(s) => {
			const used = s.setup.processing.calibration;
			return calibrations(s.history).find((c) => c.id === used)?.averages ?? 0;
		}
	),
	plain('calibration.plane', 'number', 'Plane the calibration in use was made at; -1 without one.', (s) =>
		s.picture.correction.kind === 'none' ? -1 : s.picture.correction.plane
	),
	plain(
		'plane.extension',
		'time',
		'Port extension from the calibration plane.',
		(s) => s.setup.processing.extension.delay
	),
	plain(
		'frequency.low',
		'frequency',
		'Low edge of the sweep.',
		(s) => s.picture.markers[0].reading.frequency
	),
	plain(
		'frequency.centre',
		'frequency',
		'Centre of the sweep.',
		(s) => s.picture.markers[1].reading.frequency
	),
	plain(
		'frequency.high',
		'frequency',
		'High edge of the sweep.',
		(s) => s.picture.markers[2].reading.frequency
	),
	plain('device.name', 'text', 'Name of the device.', (s) => s.setup.device.name),
	plain(
		'device.kind',
		'text',
		'Kind of the device: circuit, tabulated, impedance, open or short.',
		(s) => s.setup.device.kind
	),
	{
		name: 'device.switch',
		arguments: [{ name: 'switch', kind: 'text' }],
		kind: 'text',
		meaning: 'Position of a switch of the device.',
		read: ({ setup: { device } }, [name]) => {
			const position = device.kind === 'circuit' ? positionOf(device, String(name)) : undefined;
			if (position !== undefined) return position;
			const known = switchesOf(device).map((each) => each.name);
			throw faults['observable-argument']({
				name: 'device.switch',
				found: String(name),
				allowed: `Name a switch of ${device.name}: ${known.join(', ') || 'it has none'}.`
			});
		}
	},
	plain(
		'damage.count',
		'number',
		'How often something has broken on this bench.',
		(s) => s.history.events.filter((e) => e.kind === 'damage').length
	),
	plain(
		'damage.standing',
		'number',
		'How many parts of the bench are broken now.',
		(s) => new Set(brokenOn(s).map((damage) => damage.part)).size
	),
	plain(
		'reading.silent',
		'boolean',
		'Whether the bench shows no reading at all.',
		(s) => s.picture.silence !== null
	),
	plain('truth.revealed', 'boolean', 'Whether the truth is shown.', (s) => s.revealed)
];

export const observables: ReadonlyMap<string, Observable> = new Map(list.map((o) => [o.name, o]));

/** Reads one observable. @throws Fault for an unknown name or an argument it cannot take. */
export function readObservable(
	state: BenchState,
	name: string,
	args: readonly (number | string | boolean)[]
): number | boolean | string {
	const observable = observables.get(name);
	if (observable === undefined)
		throw faults['observable-unknown']({ name, allowed: [...observables.keys()].join(', ') });
	if (args.length !== observable.arguments.length)
		throw faults['observable-argument']({
			name,
			found: `${args.length} values`,
			allowed: `Give ${observable.arguments.map((a) => `a ${a.name} in ${baseUnit('frequency')}`).join(', ') || 'none'}.`
		});
	return observable.read(state, args);
}
