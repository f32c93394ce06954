import type { Reals } from '#lib/numeric/reals.ts';
import { checkNetlist } from './check.ts';
import { crystalParts } from './crystal.ts';
import { devicesOf } from './device.ts';
import type { Device } from './device.ts';
import { isGround, nodesOf } from './netlist.ts';
import type { Capacitor, Element, IdealLine, Netlist, UniformLine } from './netlist.ts';
import { inPositions } from './positions.ts';

/** Two unknowns a device port lies between; −1 is ground. */
export interface Ends {
	readonly plus: number;
	readonly minus: number;
}

/** A line with the unknowns of its nodes and of the currents into its two ends. */
export interface LinePlace {
	readonly line: IdealLine | UniformLine;
	readonly near: Ends;
	readonly far: Ends;
	readonly nearCurrent: number;
	readonly farCurrent: number;
}

/**
 * A circuit as modified nodal analysis (Ho, Ruehli & Brennan, IEEE Trans. Circuits and Systems 22(6), 1975): unknowns are
 * the node voltages, then the currents of coils, supplies, ammeters, lines and ports. Equations in the same order:
 * current leaving each node, then the law of each branch. What does not depend on frequency is summed up once in
 * `conductance` + jω·`capacitance`; lines, capacitors with loss, ports and devices are added by `fill` and its users.
 */
export interface Equations {
	readonly netlist: Netlist;
	/** Number of unknowns. */
	readonly size: number;
	/** What each unknown is, for messages: `node x` or the name of the element. */
	readonly labels: readonly string[];
	/** The unknowns that are currents of an element, by its name: two for a line. */
	readonly branches: ReadonlyMap<string, readonly number[]>;
	/** size × size, row by row. */
	readonly conductance: Reals;
	readonly capacitance: Reals;
	/** Right-hand side of the supplies. */
	readonly supplies: Reals;
	readonly lossy: readonly { readonly capacitor: Capacitor; readonly ends: Ends }[];
	readonly lines: readonly LinePlace[];
	/** Unknowns of each port: its node voltage and the current into the circuit. */
	readonly ports: readonly { readonly voltage: number; readonly current: number }[];
	readonly devices: readonly Device[];
	/** The ports of all devices, one after the other. */
	readonly devicePorts: readonly Ends[];
	/** The unknown each probe reads. */
	readonly probes: readonly { readonly name: string; readonly unknown: number }[];
	/** The unknown of a node, −1 for ground. */
	node(name: string): number;
}

/**
 * Checks a circuit (see `checkNetlist`) and sets up its equations, with every switch in its usual position: for other
 * positions give it the circuit `inPositions` first.
 */
export function equationsOf(given: Netlist): Equations {
	checkNetlist(given);
	const netlist = inPositions(given);
	const elements = netlist.elements.flatMap((element): readonly Element[] =>
		element.kind === 'quartz crystal' ? [element, ...crystalParts(element, netlist.models)] : [element]
	);
	const labels: string[] = [];
	const places = new Map<string, number>();
	for (const element of elements)
		for (const node of nodesOf(element))
			if (!isGround(node) && !places.has(node)) {
				places.set(node, labels.length);
				labels.push(`node ${node}`);
			}
	const node = (name: string): number => (isGround(name) ? -1 : places.get(name)!);
	const unknown = (label: string): number => labels.push(label) - 1;
	const branches = new Map<string, readonly number[]>();
	const branch = (element: string): number => {
		const place = unknown(element);
		branches.set(element, [...(branches.get(element) ?? []), place]);
		return place;
	};
	const lines: LinePlace[] = [];
	for (const element of elements) {
		if (element.kind === 'coil' || element.kind === 'supply' || element.kind === 'ammeter')
			branch(element.name);
		if (element.kind === 'ideal line' || element.kind === 'uniform line')
			lines.push({
				line: element,
				near: { plus: node(element.near[0]), minus: node(element.near[1]) },
				far: { plus: node(element.far[0]), minus: node(element.far[1]) },
				nearCurrent: branch(element.name),
				farCurrent: branch(element.name)
			});
	}
	const ports = netlist.ports.map((name, i) => ({ voltage: node(name), current: unknown(`port ${i + 1}`) }));
	const size = labels.length;
	const devices = devicesOf(netlist);
	const equations: Equations = {
		netlist,
		size,
		labels,
		branches,
		conductance: new Float64Array(size * size),
		capacitance: new Float64Array(size * size),
		supplies: new Float64Array(size),
		lossy: elements
			.filter((element) => element.kind === 'capacitor')
			.filter(({ seriesResistance }) => seriesResistance > 0)
			.map((capacitor) => ({ capacitor, ends: { plus: node(capacitor.from), minus: node(capacitor.to) } })),
		lines,
		ports,
		devices,
		devicePorts: devices.flatMap(({ ends }) => ends.map(([a, b]) => ({ plus: node(a), minus: node(b) }))),
		probes: netlist.probes.map((probe) => ({
			name: probe.name,
			unknown: probe.kind === 'voltage' ? node(probe.node) : branches.get(probe.element)![0]
		})),
		node
	};
	for (const element of elements) stamp(equations, element, branches);
	for (const { nearCurrent, farCurrent, near, far } of lines) {
		stampBranch(equations, near, nearCurrent);
		stampBranch(equations, far, farCurrent);
	}
	for (const { voltage, current } of ports) equations.conductance[voltage * size + current] -= 1;
	return equations;
}

/** Adds a value between two ends to a matrix, as a conductance or capacitance stands there. */
export function stampEnds(matrix: Reals, width: number, { plus, minus }: Ends, value: number): void {
	if (plus >= 0) matrix[plus * width + plus] += value;
	if (minus >= 0) matrix[minus * width + minus] += value;
	if (plus >= 0 && minus >= 0) {
		matrix[plus * width + minus] -= value;
		matrix[minus * width + plus] -= value;
	}
}

/** Adds a current of value·(voltage between `control`) that flows from `ends.plus` to `ends.minus`. */
export function stampTransfer(matrix: Reals, width: number, ends: Ends, control: Ends, value: number): void {
	for (const [row, sign] of [
		[ends.plus, 1],
		[ends.minus, -1]
	]) {
		if (row < 0) continue;
		if (control.plus >= 0) matrix[row * width + control.plus] += sign * value;
		if (control.minus >= 0) matrix[row * width + control.minus] -= sign * value;
	}
}

/** The current unknown `current` leaves the node `ends.plus` and enters `ends.minus`. */
function stampBranch({ conductance, size }: Equations, { plus, minus }: Ends, current: number): void {
	if (plus >= 0) conductance[plus * size + current] += 1;
	if (minus >= 0) conductance[minus * size + current] -= 1;
}

function stamp(equations: Equations, element: Element, branches: Equations['branches']): void {
	const { conductance, capacitance, supplies, size, node } = equations;
	const between = (from: string, to: string): Ends => ({ plus: node(from), minus: node(to) });
	switch (element.kind) {
		case 'resistor':
			stampEnds(conductance, size, between(element.from, element.to), 1 / element.resistance);
			break;
		case 'capacitor':
			if (element.seriesResistance === 0)
				stampEnds(capacitance, size, between(element.from, element.to), element.capacitance);
			break;
		case 'controlled source':
			stampTransfer(
				conductance,
				size,
				between(element.from, element.to),
				between(...element.control),
				element.transconductance
			);
			break;
		case 'coil':
		case 'supply':
		case 'ammeter': {
			const [row] = branches.get(element.name)!;
			const ends = between(element.from, element.to);
			stampBranch(equations, ends, row);
			if (ends.plus >= 0) conductance[row * size + ends.plus] += 1;
			if (ends.minus >= 0) conductance[row * size + ends.minus] -= 1;
			if (element.kind === 'coil') {
				conductance[row * size + row] -= element.seriesResistance;
				capacitance[row * size + row] -= element.inductance;
			}
			if (element.kind === 'supply') supplies[row] = element.voltage;
			break;
		}
	}
}
