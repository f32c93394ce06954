import type { CommandRecord } from '#lib/bench/command.ts';
import type { Pad, PartKind } from '#lib/bench/part-schema.ts';
import { formatQuantity } from '#lib/bench/quantity.ts';
import type { QuantityKind } from '#lib/bench/quantity.ts';

/** The commands the controls of the tray give, written as a lesson or a link would write them. */

const command = (name: string, args: CommandRecord['arguments']): CommandRecord => ({
	name,
	arguments: args
});

/** Of text such as `-20 dBm`, of which a setting is read. */
const setter = (name: string, setting: string, kind: QuantityKind) => (value: number) =>
	command(name, { [setting]: formatQuantity(value, kind) });

export const setLevel = setter('set level', 'level', 'level');
export const setBandwidth = setter('set bandwidth', 'bandwidth', 'frequency');
export const setAverages = (averages: number) => command('set averages', { averages });
export const setStart = setter('set sweep', 'start', 'frequency');
export const setStop = setter('set sweep', 'stop', 'frequency');
export const setPoints = (points: number) => command('set sweep', { points });
export const setSeed = (seed: number) => command('set seed', { seed });
export const setDelay = setter('set extension', 'delay', 'time');
export const setLoss = setter('set extension', 'loss', 'attenuation');

const PART_SETTINGS = {
	attenuation: 'attenuation',
	length: 'length',
	impedance: 'resistance',
	powerRating: 'power',
	velocityFactor: null
} as const satisfies Record<string, QuantityKind | null>;

/** One setting of a part; an adapter's plain settings are those of its first section. */
export const setPart = (part: string, setting: keyof typeof PART_SETTINGS) => (value: number) => {
	const kind = PART_SETTINGS[setting];
	return command('set part', { part, [setting]: kind === null ? value : formatQuantity(value, kind) });
};

export const setNetwork = (part: string, network: Pad['network']) => command('set part', { part, network });

/** The errors of a pad's resistors with the one at `place` replaced. */
export const setResistorError = (pad: Pad, place: number) => (value: number) =>
	command('set part', {
		part: pad.id,
		resistorErrors: pad.resistorErrors.map((error, i) =>
			formatQuantity(i === place ? value : error, 'fraction')
		)
	});

export const addPart = (kind: PartKind, after: string) => command('add part', { kind, after });
export const removePart = (part: string) => command('remove part', { part });
export const replacePart = (part: string, kind: PartKind) => command('replace part', { part, kind });

/** A whole part in place of a broken one: a part's id, `device` or `reflectometer`. */
export const renewPart = (part: string) => command('renew part', { part });

interface Load {
	readonly resistance: number;
	readonly reactance: number;
}

const load = ({ resistance, reactance }: Load) => ({
	resistance: formatQuantity(resistance, 'resistance'),
	reactance: formatQuantity(reactance, 'resistance')
});

export const chooseDevice = (device: string) => command('choose device', { device });
export const setDevice = (value: Load) => command('set device', load(value));
export const setCeiling = (ceiling: number | null) =>
	command('set ceiling', { ceiling: ceiling === null ? null : formatQuantity(ceiling, 'level') });
export const setCeilingChange = (change: number) => command('set ceiling change', { change });
export const setSwitch = (name: string, position: string) =>
	command('set switch', { switch: name, position });
export const setOutput = (value: Load | 'open' | 'short') =>
	command('set output', typeof value === 'string' ? { kind: value } : { kind: 'impedance', ...load(value) });

export const calibrate = (plane: number, averages: number) => command('calibrate', { plane, averages });
export const useCalibration = (calibration: string | null) => command('use calibration', { calibration });
