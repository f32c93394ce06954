import { at, complexArray, ONE, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { determinantAngle } from '#lib/numeric/dense.ts';
import type { Reals } from '#lib/numeric/reals.ts';
import { equationsOf, stampEnds } from './equations.ts';
import type { Equations } from './equations.ts';
import { faults } from './faults.ts';
import { fill, matched } from './fill.ts';
import type { Evaluation } from './laws.ts';
import { endedAngle, isTame } from './port-ends.ts';
import type { Waves } from './port-ends.ts';
import { stampDevices } from './small-signal.ts';

/** Writes the matrix of a circuit for small waves, with 50 Ω at its ports, at an angular frequency. */
type Write = (omega: number, re: Reals, im: Reals, width: number) => void;

/** A linear circuit beside a passive one of the same branches, which has no mode that grows. */
export interface RestCircuit {
	readonly equations: Equations;
	readonly circuit: Write;
	readonly reference: Write;
}

/** Angle of a determinant with 50 Ω at every port, and what the ends add to it (see `endedAngle`). */
interface Angles {
	readonly matched: number;
	readonly ended: number;
}

/** What is known at one frequency. */
export interface Place {
	/** Hz. */
	readonly frequency: number;
	readonly ends: readonly Complex[];
	readonly circuit: Angles;
	readonly reference: Angles;
	/** True if no passive ends could bring the circuit to the verge of growing there. */
	readonly tame: boolean;
}

export type Places = (frequency: number) => Place;

/** Share of a frequency to step aside by. */
const BESIDE = 1e-13;
const MOST_TRIALS = 5;

const hasSources = ({ netlist }: Equations): boolean =>
	netlist.elements.some((element) => element.kind === 'controlled source' && element.transconductance !== 0);

/** True if a device, linearised, cannot give power: no port acts on another, and each takes it. */
const takesPower = ({ conductance, capacitance }: Evaluation): boolean => {
	const ports = Math.sqrt(conductance.length);
	return [conductance, capacitance].every((matrix) =>
		matrix.every(([value], place) => (place % (ports + 1) === 0 ? value >= 0 : value === 0))
	);
};

/** True if nothing in the circuit can give power at its operating point, so that nothing grows with any passive ends. */
export const isPassive = (equations: Equations, devices: readonly Evaluation[]): boolean =>
	!hasSources(equations) && devices.every(takesPower);

/** The circuit without its devices and with a conductance for every controlled source. */
function quietLinear(equations: Equations): Write {
	const ends = matched(equations.ports.length);
	const { elements } = equations.netlist;
	const sources = elements.filter((element) => element.kind === 'controlled source');
	const quiet =
		sources.length === 0
			? equations
			: equationsOf({
					...equations.netlist,
					elements: elements.map((element) =>
						element.kind === 'controlled source' ? { ...element, transconductance: 0 } : element
					)
				});
	const { node } = equations;
	return (omega, re, im, width) => {
		fill(quiet, omega, ends, re, im, width);
		for (const { from, to, transconductance } of sources)
			stampEnds(re, width, { plus: node(from), minus: node(to) }, Math.abs(transconductance));
	};
}

/** A circuit at its operating point; in the reference, devices that can give power are the conductances of their ports. */
export function restingCircuit(equations: Equations, devices: readonly Evaluation[]): RestCircuit {
	const ends = matched(equations.ports.length);
	const quiet = quietLinear(equations);
	const tamed = devices.map((device, d) => {
		if (takesPower(device)) return device;
		const { ports } = equations.devices[d].law;
		const own = (p: number, q: number, value: number): Reals => new Float64Array([p === q ? value : 0]);
		const all = ports.flatMap((_, p) => ports.map((__, q) => [p, q] as const));
		return {
			...device,
			conductance: all.map(([p, q]) => own(p, q, ports[p].reference)),
			capacitance: all.map(([p, q]) => own(p, q, Math.max(0, device.capacitance[p * ports.length + q][0])))
		};
	});
	return {
		equations,
		circuit(omega, re, im, width) {
			fill(equations, omega, ends, re, im, width);
			stampDevices(equations, { devices }, omega, re, im, width);
		},
		reference(omega, re, im, width) {
			quiet(omega, re, im, width);
			stampDevices(equations, { devices: tamed }, omega, re, im, width);
		}
	};
}

/**
 * The linear part alone: every device port is its reference conductance and a capacitance. Null without controlled
 * sources, when it is passive.
 */
export function linearCircuit(equations: Equations, capacitances: readonly number[]): RestCircuit | null {
	if (!hasSources(equations)) return null;
	const ends = matched(equations.ports.length);
	const laws = equations.devices.flatMap(({ law }) => law.ports);
	const quiet = quietLinear(equations);
	const addPorts: Write = (omega, re, im, width) =>
		equations.devicePorts.forEach((place, p) => {
			stampEnds(re, width, place, laws[p].reference);
			stampEnds(im, width, place, omega * capacitances[p]);
		});
	return {
		equations,
		circuit(omega, re, im, width) {
			fill(equations, omega, ends, re, im, width);
			addPorts(omega, re, im, width);
		},
		reference(omega, re, im, width) {
			quiet(omega, re, im, width);
			addPorts(omega, re, im, width);
		}
	};
}

/** Looks at a circuit one frequency at a time. */
export function placesOf(
	{ equations, circuit, reference }: RestCircuit,
	ends: (frequency: number) => readonly Complex[]
): Places {
	const { size, ports } = equations;
	const width = size + ports.length;
	const answer = complexArray(size * width);
	const { re, im } = answer;
	const look = (write: Write, omega: number): { readonly angle: number; readonly waves: Waves } => {
		write(omega, re, im, width);
		ports.forEach(({ current }, j) => (re[current * width + size + j] = 2));
		const angle = determinantAngle(re, im, size, width);
		const waves = ports.map(({ voltage }, i) =>
			ports.map((_, j) => {
				const out = at(answer, voltage * width + size + j);
				return i === j ? subtract(out, ONE) : out;
			})
		);
		return { angle, waves };
	};
	const place = (frequency: number, trial = 0): Place => {
		const omega = 2 * Math.PI * frequency;
		const own = look(circuit, omega);
		const quiet = look(reference, omega);
		if (Number.isNaN(own.angle + quiet.angle)) {
			if (trial === MOST_TRIALS)
				throw faults['circuit-undetermined']({ place: 'equations', when: ` at ${frequency} Hz` });
			// exactly upon a mode without any loss
			return place(frequency * (1 + BESIDE), trial + 1);
		}
		const ending = ends(frequency);
		return {
			frequency,
			ends: ending,
			circuit: { matched: own.angle, ended: endedAngle(own.waves, ending) },
			reference: { matched: quiet.angle, ended: endedAngle(quiet.waves, ending) },
			tame: isTame(own.waves)
		};
	};
	return (frequency) => place(frequency);
}
