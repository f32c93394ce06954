import { isDevice, portEnds } from './device.ts';
import type { DeviceElement } from './device.ts';
import type { Depletion, Model, Netlist, Resistor } from './netlist.ts';

/**
 * What harm leaves of a device. The direction of every change is common practice, no source: reverse breakdown of a base
 * and emitter lowers the current gain and makes the junction leak; too much current leaves a diode or gate leaky; a
 * crystal driven too hard moves its frequency and loses quality. The sizes are invented, large enough to be found by
 * measurement and small enough for the device still to work.
 */

/** Ω across the junction that was harmed. */
const LEAK = { diode: 1000, 'bipolar transistor': 15_000, 'junction field-effect transistor': 20_000 };
/** Saturation currents grow by this: more states in the junction at which carriers meet. */
const SATURATION = { diode: 3, 'bipolar transistor': 3, 'junction field-effect transistor': 1000 };
/** Shares of forward current gain and of transconductance that are left. */
const GAIN_LEFT = 0.35;
const TRANSCONDUCTANCE_LEFT = 0.55;
/** The harmed junction holds more charge: its depletion layer has become thinner in places. */
const CAPACITANCE = 1.3;
/** Of a crystal: its motional resistance, and its motional capacitance, half of which moves the frequency down. */
const MOTIONAL_RESISTANCE = 3;
const MOTIONAL_CAPACITANCE = 1 + 8e-5;

const larger = (junction: Depletion): Depletion => ({
	...junction,
	capacitance: junction.capacitance * CAPACITANCE
});

function harmed(model: Model): Model {
	switch (model.kind) {
		case 'diode':
			return {
				...model,
				saturationCurrent: model.saturationCurrent * SATURATION.diode,
				depletion: larger(model.depletion)
			};
		case 'bipolar transistor':
			return {
				...model,
				saturationCurrent: model.saturationCurrent * SATURATION[model.kind],
				forwardGain: model.forwardGain * GAIN_LEFT,
				baseEmitter: larger(model.baseEmitter)
			};
		case 'junction field-effect transistor':
			return {
				...model,
				saturationCurrent: model.saturationCurrent * SATURATION[model.kind],
				transconductance: model.transconductance * TRANSCONDUCTANCE_LEFT,
				gateSource: larger(model.gateSource)
			};
		case 'quartz crystal':
			return {
				...model,
				motionalResistance: model.motionalResistance * MOTIONAL_RESISTANCE,
				motionalCapacitance: model.motionalCapacitance * MOTIONAL_CAPACITANCE
			};
	}
}

/** `wish`, or with as many signs behind it as make it a name of its own. */
const unused = (wish: string, isUsed: (name: string) => boolean): string =>
	isUsed(wish) ? unused(`${wish}+`, isUsed) : wish;

/** A resistor across the first port of a device: base–emitter, gate–source or the junction of a diode. */
function leakOf(element: DeviceElement, model: Model, name: string): Resistor | undefined {
	const [from, to] = portEnds(element)[0];
	if (model.kind === 'quartz crystal' || from === to) return undefined;
	return { kind: 'resistor', name, from, to, resistance: LEAK[model.kind] };
}

/**
 * The same circuit after harm to the devices named: leakier junctions, less gain, another capacitance, a crystal off its
 * frequency. Harm to a device that was named already, or to a name that is no device of the circuit, changes nothing.
 * New elements and models have names of their own.
 */
export function damagedNetlist(netlist: Netlist, elements: readonly string[]): Netlist {
	const names = new Set(netlist.elements.map(({ name }) => name));
	const models: Record<string, Model> = { ...netlist.models };
	const changed = netlist.elements.flatMap((element) => {
		if (!isDevice(element) || !elements.includes(element.name)) return [element];
		const whole = netlist.models[element.model];
		const model = unused(`${element.name} harmed`, (name) => Object.hasOwn(models, name));
		models[model] = harmed(whole);
		const leak = leakOf(
			element,
			whole,
			unused(`${element.name} leak`, (name) => names.has(name))
		);
		if (leak) names.add(leak.name);
		return [{ ...element, model }, ...(leak ? [leak] : [])];
	});
	return { ...netlist, elements: changed, models };
}
