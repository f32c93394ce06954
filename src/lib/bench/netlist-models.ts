import { z } from 'zod';
import { formatQuantity } from './quantity.ts';
import type { QuantityKind } from './quantity.ts';
import type { CrystalModel, Depletion, Model } from '#lib/circuit/netlist.ts';
import { measure, plain } from './netlist-parts.ts';

/** The models of a netlist file, by the kind of device they describe. What is left out has the value named here. */

const NO_CHARGE: Depletion = { capacitance: 0, potential: 1, grading: 0.5, bend: 0.5 };

const junction = z
	.strictObject({
		capacitance: measure('capacitance'),
		potential: measure('voltage'),
		grading: plain('the grading'),
		bend: plain('where the straight line begins').default(NO_CHARGE.bend)
	})
	.default(NO_CHARGE);

const one = (what: string) => plain(what).default(1);

const diode = z
	.strictObject({
		kind: z.literal('diode'),
		'saturation current': measure('current'),
		'emission coefficient': one('the emission coefficient'),
		junction
	})
	.transform((w): Model => ({
		kind: 'diode',
		saturationCurrent: w['saturation current'],
		emissionCoefficient: w['emission coefficient'],
		depletion: w.junction
	}));

const bipolar = z
	.strictObject({
		kind: z.literal('bipolar transistor'),
		'saturation current': measure('current'),
		'forward emission coefficient': one('the forward emission coefficient'),
		'reverse emission coefficient': one('the reverse emission coefficient'),
		'forward gain': plain('the forward current gain'),
		'reverse gain': one('the reverse current gain'),
		'Early voltage': measure('voltage').default(Infinity),
		'base-emitter junction': junction,
		'base-collector junction': junction,
		'forward transit time': measure('time').default(0),
		'reverse transit time': measure('time').default(0)
	})
	.transform((w): Model => ({
		kind: 'bipolar transistor',
		saturationCurrent: w['saturation current'],
		forwardEmission: w['forward emission coefficient'],
		reverseEmission: w['reverse emission coefficient'],
		forwardGain: w['forward gain'],
		reverseGain: w['reverse gain'],
		earlyVoltage: w['Early voltage'],
		baseEmitter: w['base-emitter junction'],
		baseCollector: w['base-collector junction'],
		forwardTransit: w['forward transit time'],
		reverseTransit: w['reverse transit time']
	}));

const fieldEffect = z
	.strictObject({
		kind: z.literal('junction field-effect transistor'),
		threshold: measure('voltage'),
		transconductance: measure('current per squared voltage'),
		'channel modulation': measure('part per voltage').default(0),
		'saturation current': measure('current'),
		'gate-source junction': junction,
		'gate-drain junction': junction
	})
	.transform((w): Model => ({
		kind: 'junction field-effect transistor',
		threshold: w.threshold,
		transconductance: w.transconductance,
		channelModulation: w['channel modulation'],
		saturationCurrent: w['saturation current'],
		gateSource: w['gate-source junction'],
		gateDrain: w['gate-drain junction']
	}));

const crystal = z
	.strictObject({
		kind: z.literal('quartz crystal'),
		'motional resistance': measure('resistance'),
		'motional capacitance': measure('capacitance'),
		'motional inductance': measure('inductance').optional(),
		'series resonance': measure('frequency').optional(),
		'holder capacitance': measure('capacitance').default(0),
		stiffening: measure('part per squared voltage').default(0),
		'resistance-doubling current': measure('current').default(Infinity)
	})
	.refine((w) => (w['motional inductance'] === undefined) !== (w['series resonance'] === undefined), {
		error: 'Give either "motional inductance" or "series resonance".',
		path: ['motional inductance']
	})
	.transform((w): Model => ({
		kind: 'quartz crystal',
		motionalResistance: w['motional resistance'],
		motionalInductance:
			w['motional inductance'] ??
			1 / ((2 * Math.PI * w['series resonance']!) ** 2 * w['motional capacitance']),
		motionalCapacitance: w['motional capacitance'],
		holderCapacitance: w['holder capacitance'],
		stiffening: w.stiffening,
		resistanceCurrent: w['resistance-doubling current']
	}));

const kinds = {
	diode,
	'bipolar transistor': bipolar,
	'junction field-effect transistor': fieldEffect,
	'quartz crystal': crystal
};

export const modelKinds: readonly string[] = Object.keys(kinds);

/** The form of a model, by its kind; undefined where there is no such kind. */
export const modelForm = (kind: unknown): z.ZodType<Model> | undefined =>
	typeof kind === 'string' && Object.hasOwn(kinds, kind) ? kinds[kind as keyof typeof kinds] : undefined;

const value = (number: number, kind: QuantityKind): string => formatQuantity(number, kind);
const timeWritten = (time: number): string | undefined => (time === 0 ? undefined : value(time, 'time'));

const junctionWritten = (law: Depletion): Readonly<Record<string, unknown>> => ({
	capacitance: value(law.capacitance, 'capacitance'),
	potential: value(law.potential, 'voltage'),
	grading: law.grading,
	bend: law.bend
});

const crystalWritten = (model: CrystalModel): Readonly<Record<string, unknown>> => ({
	kind: model.kind,
	'motional resistance': value(model.motionalResistance, 'resistance'),
	'motional capacitance': value(model.motionalCapacitance, 'capacitance'),
	'motional inductance': value(model.motionalInductance, 'inductance'),
	'holder capacitance': value(model.holderCapacitance, 'capacitance'),
	stiffening: value(model.stiffening, 'part per squared voltage'),
	'resistance-doubling current':
		model.resistanceCurrent === Infinity ? undefined : value(model.resistanceCurrent, 'current')
});

/** The model as it is written. */
export function modelWritten(model: Model): Readonly<Record<string, unknown>> {
	if (model.kind === 'quartz crystal') return crystalWritten(model);
	const { kind } = model;
	const current = value(model.saturationCurrent, 'current');
	if (kind === 'diode')
		return {
			kind,
			'saturation current': current,
			'emission coefficient': model.emissionCoefficient,
			junction: junctionWritten(model.depletion)
		};
	if (kind === 'junction field-effect transistor')
		return {
			kind,
			threshold: value(model.threshold, 'voltage'),
			transconductance: value(model.transconductance, 'current per squared voltage'),
			'channel modulation': value(model.channelModulation, 'part per voltage'),
			'saturation current': current,
			'gate-source junction': junctionWritten(model.gateSource),
			'gate-drain junction': junctionWritten(model.gateDrain)
		};
	return {
		kind,
		'saturation current': current,
		'forward emission coefficient': model.forwardEmission,
		'reverse emission coefficient': model.reverseEmission,
		'forward gain': model.forwardGain,
		'reverse gain': model.reverseGain,
		'Early voltage': model.earlyVoltage === Infinity ? undefined : value(model.earlyVoltage, 'voltage'),
		'forward transit time': timeWritten(model.forwardTransit),
		'reverse transit time': timeWritten(model.reverseTransit),
		'base-emitter junction': junctionWritten(model.baseEmitter),
		'base-collector junction': junctionWritten(model.baseCollector)
	};
}
