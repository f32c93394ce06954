import { checkEveryPosition, checkSwitches } from './check-switches.ts';
import { isDevice } from './device.ts';
import { faults } from './faults.ts';
import { isGround, nodesOf } from './netlist.ts';
import type {
	BipolarModel,
	CrystalModel,
	Depletion,
	DiodeModel,
	Element,
	FieldEffectModel,
	Model,
	Netlist
} from './netlist.ts';

/** Elements; the equations are solved as full matrices, whose cost grows with the cube of the circuit. */
const MOST_ELEMENTS = 500;

type Row = readonly [
	quantity: string,
	value: number,
	range: 'above zero' | 'not negative' | 'any' | 'infinite' | 'share'
];

const wanted = {
	'above zero': 'a number above zero',
	'not negative': 'zero or a number above zero',
	any: 'a number',
	infinite: 'a number above zero, or nothing for none',
	share: 'a number from 0 up to, not including, 1'
};

function fits(value: number, range: Row[2]): boolean {
	if (range === 'infinite') return value > 0;
	if (!Number.isFinite(value)) return false;
	if (range === 'any') return true;
	if (range === 'share') return value >= 0 && value < 1;
	return range === 'above zero' ? value > 0 : value >= 0;
}

function checkRows(place: string, rows: readonly Row[]): void {
	for (const [quantity, value, range] of rows)
		if (!fits(value, range))
			throw faults['circuit-value']({ element: place, quantity, value, wanted: wanted[range] });
}

function elementRows(element: Element): readonly Row[] {
	switch (element.kind) {
		case 'resistor':
			return [['resistance in Ω', element.resistance, 'above zero']];
		case 'coil':
			return [
				['inductance in H', element.inductance, 'above zero'],
				['series resistance in Ω', element.seriesResistance, 'not negative']
			];
		case 'capacitor':
			return [
				['capacitance in F', element.capacitance, 'above zero'],
				['series resistance in Ω', element.seriesResistance, 'not negative']
			];
		case 'ideal line':
			return [
				['characteristic impedance in Ω', element.characteristicImpedance, 'above zero'],
				['delay in s', element.delay, 'above zero']
			];
		case 'uniform line':
			return [
				['resistance in Ω/m', element.resistancePerMetre, 'not negative'],
				['inductance in H/m', element.inductancePerMetre, 'above zero'],
				['capacitance in F/m', element.capacitancePerMetre, 'above zero'],
				['length in m', element.length, 'above zero']
			];
		case 'controlled source':
			return [['transconductance in S', element.transconductance, 'any']];
		case 'supply':
			return [['voltage in V', element.voltage, 'any']];
		case 'relay':
			return [
				['contact resistance in Ω', element.contactResistance, 'above zero'],
				['open capacitance in F', element.openCapacitance, 'not negative']
			];
		default:
			return [];
	}
}

const depletionRows = (name: string, law: Depletion): readonly Row[] => [
	[`${name} capacitance in F`, law.capacitance, 'not negative'],
	[`${name} potential in V`, law.potential, 'above zero'],
	[`${name} grading`, law.grading, 'share'],
	[`${name} bend`, law.bend, 'share']
];

const diodeRows = (model: DiodeModel): readonly Row[] => [
	['saturation current in A', model.saturationCurrent, 'above zero'],
	['emission coefficient', model.emissionCoefficient, 'above zero'],
	...depletionRows('junction', model.depletion)
];

const bipolarRows = (model: BipolarModel): readonly Row[] => [
	['saturation current in A', model.saturationCurrent, 'above zero'],
	['forward emission coefficient', model.forwardEmission, 'above zero'],
	['reverse emission coefficient', model.reverseEmission, 'above zero'],
	['forward gain', model.forwardGain, 'above zero'],
	['reverse gain', model.reverseGain, 'above zero'],
	['Early voltage in V', model.earlyVoltage, 'infinite'],
	['forward transit time in s', model.forwardTransit, 'not negative'],
	['reverse transit time in s', model.reverseTransit, 'not negative'],
	...depletionRows('base-emitter', model.baseEmitter),
	...depletionRows('base-collector', model.baseCollector)
];

const fieldEffectRows = (model: FieldEffectModel): readonly Row[] => [
	['threshold in V', model.threshold, 'any'],
	['transconductance in A/V²', model.transconductance, 'above zero'],
	['channel modulation in 1/V', model.channelModulation, 'not negative'],
	['saturation current in A', model.saturationCurrent, 'above zero'],
	...depletionRows('gate-source', model.gateSource),
	...depletionRows('gate-drain', model.gateDrain)
];

const crystalRows = (model: CrystalModel): readonly Row[] => [
	['motional resistance in Ω', model.motionalResistance, 'above zero'],
	['motional inductance in H', model.motionalInductance, 'above zero'],
	['motional capacitance in F', model.motionalCapacitance, 'above zero'],
	['holder capacitance in F', model.holderCapacitance, 'not negative'],
	['stiffening in 1/V²', model.stiffening, 'not negative'],
	['resistance-doubling current in A', model.resistanceCurrent, 'infinite']
];

function modelRows(model: Model): readonly Row[] {
	switch (model.kind) {
		case 'diode':
			return diodeRows(model);
		case 'bipolar transistor':
			return bipolarRows(model);
		case 'junction field-effect transistor':
			return fieldEffectRows(model);
		case 'quartz crystal':
			return crystalRows(model);
	}
}

function checkModel(element: Element, models: Netlist['models']): void {
	if (!isDevice(element)) return;
	const { name, model } = element;
	if (!Object.hasOwn(models, model)) {
		const known = Object.keys(models).join(', ') || 'it has none';
		throw faults['circuit-model-unknown']({ element: name, model, known });
	}
	const kind = element.kind === 'varactor' ? 'diode' : element.kind;
	if (models[model].kind !== kind)
		throw faults['circuit-model-kind']({
			element: name,
			kind: element.kind,
			model,
			other: models[model].kind
		});
}

/**
 * Throws a fault that names the element if the circuit cannot be solved: too many elements, a value out of range, an unknown or unfit
 * model, a name used twice, a switch or position that is not there, and, in any position of its switches, a port or
 * probe that leads nowhere, a node no direct current reaches, a shorted supply, a loop without resistance. `circuit` has been read into its form already.
 */
export function checkNetlist(netlist: Netlist): void {
	const { elements, models, ports, probes } = netlist;
	if (elements.length > MOST_ELEMENTS)
		throw faults['circuit-size']({ found: elements.length, allowed: MOST_ELEMENTS });
	const names = new Set<string>();
	const nodes = new Set<string>();
	for (const element of elements) {
		if (names.has(element.name)) throw faults['circuit-name-twice']({ element: element.name });
		names.add(element.name);
		checkRows(element.name, elementRows(element));
		checkModel(element, models);
		for (const node of nodesOf(element)) nodes.add(node);
	}
	for (const [name, model] of Object.entries(models)) checkRows(`model ${name}`, modelRows(model));
	if (ports.length === 0) throw faults['circuit-ports']({ finding: 'The circuit has no port' });
	ports.forEach((node, i) => {
		if (isGround(node)) throw faults['circuit-ports']({ finding: `Port ${i + 1} is at ground` });
		if (ports.indexOf(node) !== i)
			throw faults['circuit-ports']({
				finding: `Ports ${ports.indexOf(node) + 1} and ${i + 1} are the same node`
			});
		if (!nodes.has(node)) throw faults['circuit-node-unknown']({ place: `port ${i + 1}`, node });
	});
	for (const probe of probes) {
		if (probe.kind === 'voltage') {
			if (!nodes.has(probe.node) && !isGround(probe.node))
				throw faults['circuit-node-unknown']({ place: `probe ${probe.name}`, node: probe.node });
		} else if (
			!elements.some(({ name, kind }) => name === probe.element && (kind === 'ammeter' || kind === 'supply'))
		)
			throw faults['circuit-probe-element']({ probe: probe.name, element: probe.element });
	}
	checkSwitches(netlist);
	checkEveryPosition(netlist);
}
