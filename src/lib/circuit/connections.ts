import { isDevice, portEnds } from './device.ts';
import { faults } from './faults.ts';
import { isGround, nodesOf } from './netlist.ts';
import type { Element, Netlist } from './netlist.ts';

/** Two nodes a direct current can pass between; `without` resistance if nothing limits it. */
interface Link {
	readonly element: Element;
	readonly ends: readonly [string, string];
	readonly without: boolean;
}

const plain = (node: string): string => (isGround(node) ? '0' : node);

function linksOf(element: Element): readonly Link[] {
	const link = (from: string, to: string, without: boolean): Link => ({
		element,
		ends: [plain(from), plain(to)],
		without
	});
	// its motional capacitance and that of its holder block direct current
	if (element.kind === 'quartz crystal') return [];
	if (isDevice(element)) return portEnds(element).map(([from, to]) => link(from, to, false));
	switch (element.kind) {
		case 'resistor':
			return [link(element.from, element.to, false)];
		case 'coil':
			return [link(element.from, element.to, element.seriesResistance === 0)];
		case 'supply':
		case 'ammeter':
			return [link(element.from, element.to, true)];
		case 'ideal line':
		case 'uniform line': {
			const { near, far } = element;
			const straight = element.kind === 'ideal line' || element.resistancePerMetre === 0;
			const common = plain(near[1]) === plain(far[1]);
			// with separate returns a line carries the difference of its ends over, and ties the ends to each other only so
			return common
				? [link(near[0], far[0], straight)]
				: [link(near[0], far[0], false), link(near[1], far[1], false)];
		}
		default:
			return [];
	}
}

/** The links of a path between two nodes through `links`, or null. */
function pathBetween(links: readonly Link[], from: string, to: string): readonly Link[] | null {
	if (from === to) return [];
	const arrived = new Map<string, { link: Link; before: string } | null>([[from, null]]);
	const waiting = [from];
	for (let node = waiting.shift(); node !== undefined; node = waiting.shift()) {
		for (const link of links) {
			const [a, b] = link.ends;
			const next = a === node ? b : b === node ? a : null;
			if (next === null || arrived.has(next)) continue;
			arrived.set(next, { link, before: node });
			if (next === to) {
				const path: Link[] = [];
				for (let step = arrived.get(to); step; step = arrived.get(step.before)) path.push(step.link);
				return path;
			}
			waiting.push(next);
		}
	}
	return null;
}

const named = (elements: readonly Element[]): string =>
	elements.length === 0 ? 'its own wiring' : [...new Set(elements.map(({ name }) => name))].join(', ');

function checkLoops(links: readonly Link[]): void {
	const taken: Link[] = [];
	for (const link of links.filter(({ without }) => without)) {
		const path = pathBetween(taken, ...link.ends);
		if (path !== null) {
			const loop = [...path, link].map(({ element }) => element);
			const supplies = loop.filter((element) => element.kind === 'supply' && element.voltage !== 0);
			const first = supplies[0];
			if (supplies.length === 1)
				throw faults['circuit-supply-short']({
					element: first.name,
					path: named(loop.filter((element) => element !== first))
				});
			throw faults['circuit-source-loop']({ element: link.element.name, path: named(loop) });
		}
		taken.push(link);
	}
}

function checkFloating(netlist: Netlist, links: readonly Link[]): void {
	const neighbours = new Map<string, string[]>();
	const join = (a: string, b: string): void => {
		neighbours.set(a, [...(neighbours.get(a) ?? []), b]);
		neighbours.set(b, [...(neighbours.get(b) ?? []), a]);
	};
	for (const { ends } of links) join(...ends);
	for (const port of netlist.ports) join(port, '0');
	const reached = new Set(['0']);
	const waiting = ['0'];
	for (let node = waiting.pop(); node !== undefined; node = waiting.pop())
		for (const next of neighbours.get(node) ?? [])
			if (!reached.has(next)) {
				reached.add(next);
				waiting.push(next);
			}
	for (const element of netlist.elements)
		for (const node of nodesOf(element).map(plain))
			if (!reached.has(node)) {
				const at = netlist.elements.filter((other) => nodesOf(other).map(plain).includes(node));
				throw faults['circuit-node-floating']({ node, elements: named(at) });
			}
}

/**
 * Throws a fault naming the element if a supply is shorted, if supplies, ammeters, coils and lines without resistance
 * form a loop, or if a node cannot be reached from ground by direct current. Ports count as paths to ground: something
 * is always connected to them.
 */
export function checkConnections(netlist: Netlist): void {
	const links = netlist.elements.flatMap(linksOf);
	checkLoops(links);
	checkFloating(netlist, links);
}
