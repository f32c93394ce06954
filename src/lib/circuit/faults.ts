import { catalogue } from '#lib/fault.ts';

/** What can be wrong with a circuit. Every one names the element or the node. */
export const faults = catalogue({
	'circuit-form': {
		place: 'circuit, {place}',
		finding: 'Found {found}.',
		remedy: '{allowed}.'
	},
	'circuit-size': {
		place: 'circuit, elements',
		finding: 'There are {found} elements.',
		remedy: 'Give at most {allowed}. Leave out what the input does not depend on.'
	},
	'circuit-value': {
		place: 'circuit, {element}',
		finding: 'Its {quantity} is {value}.',
		remedy: 'Give {wanted}.'
	},
	'circuit-name-twice': {
		place: 'circuit, {element}',
		finding: 'Two elements have this name.',
		remedy: 'Give every element a name of its own.'
	},
	'circuit-model-unknown': {
		place: 'circuit, {element}',
		finding: 'Its model “{model}” is not among the models of the circuit ({known}).',
		remedy: 'Write the name of a model that is there, or add the model.'
	},
	'circuit-model-kind': {
		place: 'circuit, {element}',
		finding: 'It is a {kind}, and its model “{model}” is that of a {other}.',
		remedy: 'Give it a model of its own kind.'
	},
	'circuit-node-unknown': {
		place: 'circuit, {place}',
		finding: 'No element is connected to its node “{node}”.',
		remedy: 'Write the name of a node that an element uses.'
	},
	'circuit-probe-element': {
		place: 'circuit, probe {probe}',
		finding: 'It reads the current of “{element}”, which is neither an ammeter nor a supply of this circuit.',
		remedy: 'Put an ammeter in the branch and name it here.'
	},
	'circuit-probe-name': {
		place: 'circuit, probe {probe}',
		finding: '{finding}.',
		remedy: 'Give the probe another name, such as “{probe} probe”.'
	},
	'circuit-oscillates': {
		place: 'circuit, at rest with {ends}',
		finding: 'It does not stay there: a small disturbance {growth}, so there is nothing to measure.',
		remedy:
			'End the ports otherwise, or change the circuit: less gain, less feedback, or a resistor that takes up the oscillation.'
	},
	'circuit-ports': {
		place: 'circuit, ports',
		finding: '{finding}.',
		remedy: 'Give at least one port; every port is a node of its own, other than ground.'
	},
	'circuit-switch': {
		place: 'circuit, {place}',
		finding: '{finding}.',
		remedy: '{remedy}.'
	},
	'circuit-switch-unknown': {
		place: 'circuit, {place}',
		finding: 'The circuit has no switch “{switch}”.',
		remedy: 'Name one of its switches ({known}).'
	},
	'circuit-position-unknown': {
		place: 'circuit, {place}',
		finding: 'The switch “{switch}” has no position “{position}”.',
		remedy: 'Give one of its positions ({known}).'
	},
	'circuit-node-alone': {
		place: 'circuit, {place}',
		finding: 'Nothing is connected to its node “{node}” any more.',
		remedy: 'Give an open contact there a capacitance, or join the node to ground through a large resistor.'
	},
	'circuit-node-floating': {
		place: 'circuit, node {node}',
		finding: 'No direct current can reach this node ({elements}), so its direct voltage is not determined.',
		remedy: 'Join it to ground through a resistor, a large one if it should not matter.'
	},
	'circuit-supply-short': {
		place: 'circuit, {element}',
		finding: 'It is shorted: {path} joins its two ends without any resistance.',
		remedy: 'Put a resistance into the path, if only the small one of the wire or coil.'
	},
	'circuit-source-loop': {
		place: 'circuit, {element}',
		finding: 'It closes a loop without resistance ({path}), in which any current could flow.',
		remedy: 'Put a resistance into the loop, if only the small one of the wire or coil.'
	},
	'circuit-undetermined': {
		place: 'circuit, {place}',
		finding: 'The equations of the circuit have no single answer there{when}.',
		remedy:
			'Look for a part of the circuit that hangs on nothing, or for ideal elements that contradict each other.'
	},
	'circuit-operating-point': {
		place: 'circuit, operating point',
		finding: 'The direct voltages did not settle; the last trial moved most at {place}.',
		remedy:
			'Check the models and the supply voltages; a very large gain around a loop may have no steady state.'
	}
});
