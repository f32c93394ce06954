import fc from 'fast-check';
import { expect, test } from 'vitest';
import { crystalLaw } from '#lib/circuit/crystal.ts';
import type { ConvergedPoint, DrivenPoint } from '#lib/circuit/driven-point.ts';
import { driveFromDbm, DrivenEquations } from '#lib/circuit/driven-equations.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import { crystal as frontEnd } from '#lib/circuit/front-ends/crystal.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import { newtonStep, residual } from '#lib/circuit/harmonic-equations.ts';
import { solveHarmonics } from '#lib/circuit/harmonic-newton.ts';
import { evaluation } from '#lib/circuit/laws.ts';
import { crossings } from '#lib/circuit/limits.ts';
import type { CrystalModel, Element, Netlist } from '#lib/circuit/netlist.ts';
import { operatingPoint } from '#lib/circuit/operating-point.ts';
import { matchedSurroundings } from '#lib/circuit/reduced-network.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { growingDisturbances } from '#lib/circuit/stability.ts';
import { Fault } from '#lib/fault.ts';
import { at, magnitude, subtract } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import arm from '../../reference/data/circuits/crystal_arm.json' with { type: 'json' };
import { capacitor, netlist, resistor, supply } from './circuits.ts';

/** The values of the reference circuit `crystal_arm`, with a drive law. */
const plate: CrystalModel = {
	kind: 'quartz crystal',
	motionalResistance: 12,
	motionalInductance: 0.02533029591,
	motionalCapacitance: 1e-14,
	holderCapacitance: 3e-12,
	stiffening: 1e-12,
	resistanceCurrent: 0.01
};
const { motionalResistance: R, motionalInductance: L, motionalCapacitance: C } = plate;
const RESONANCE = 1 / (2 * Math.PI * Math.sqrt(L * C));

const piece = (name: string, from: string, to: string): Element => ({
	kind: 'quartz crystal',
	name,
	from,
	to,
	model: 'plate'
});

const alone = (changes: Partial<CrystalModel> = {}): Netlist =>
	netlist([piece('Y1', 'in', '0')], ['in'], { models: { plate: { ...plate, ...changes } } });

/** Without holder: nothing but the motional arm, fed through 50 Ω. */
const bare = (changes: Partial<CrystalModel>): Netlist => alone({ holderCapacitance: 0, ...changes });

const apart = (a: Complex, b: Complex): number => magnitude(subtract(a, b));

function converged(point: DrivenPoint): ConvergedPoint {
	if (!point.converged) throw new Error(`${point.frequency} Hz ${point.dbm} dBm did not converge`);
	return point;
}

/** Peak fundamental current into port 1, A. */
const currentOf = ({ dbm, impedance }: ConvergedPoint): number =>
	driveFromDbm(dbm) / magnitude({ re: impedance.re + 50, im: impedance.im });

test('the laws are the cubic ones exactly, and their derivatives the slopes', () => {
	const law = crystalLaw(plate);
	const valuesAt = (volts: number): readonly (readonly [number, number])[] => {
		const out = evaluation(2, 1);
		law.evaluate(1, [new Float64Array([volts]), new Float64Array([volts])], out);
		expect([1, 2].map((place) => out.conductance[place][0])).toEqual([0, 0]);
		return [
			[out.current[0][0], out.conductance[0][0]],
			[out.charge[1][0], out.capacitance[3][0]]
		];
	};
	for (const volts of [-1e7, -3e3, -0.2, -1e-9, 0, 1e-4, 0.12, 7, 2e6]) {
		const [[i, g], [q, c]] = valuesAt(volts);
		const x = q / C;
		expect(Math.abs(R * i * (1 + (i / plate.resistanceCurrent) ** 2) - volts)).toBeLessThan(
			4e-15 * Math.abs(volts) + 1e-300
		);
		expect(Math.abs(x * (1 + plate.stiffening * x * x) - volts)).toBeLessThan(
			4e-15 * Math.abs(volts) + 1e-300
		);
		const step = 1e-4 * (Math.abs(volts) + 1e-6);
		const [up, down] = [valuesAt(volts + step), valuesAt(volts - step)];
		expect((up[0][0] - down[0][0]) / (2 * step) / g).toBeCloseTo(1, 6);
		expect((up[1][0] - down[1][0]) / (2 * step) / c).toBeCloseTo(1, 6);
	}
});

// answers of an independent circuit simulator, named in the README beside the data
test('at rest it is the linear arm of the reference circuit', () => {
	const [start, step] = [9.995e6, 250];
	const frequencies = Array.from({ length: 121 }, (_, i) => start + i * step);
	const s = smallSignal(equationsOf(alone()), frequencies)[0][0];
	const { freqs_hz, s11 } = arm.results.sparams;
	expect(freqs_hz).toEqual(frequencies);
	s11.forEach(([re, im], i) => expect(apart(at(s, i), { re, im })).toBeLessThan(1e-9));
});

// five megahertz, third overtone: Q = 3·10⁶, the highest that is common (common practice, no source)
const overtone = {
	motionalResistance: 100,
	motionalCapacitance: 1e-16,
	motionalInductance: 1 / ((2 * Math.PI * 5e6) ** 2 * 1e-16),
	stiffening: 1e-16
};

test.each<[string, Partial<CrystalModel>, number]>([
	['10 MHz', {}, RESONANCE],
	['5 MHz overtone', overtone, 5e6]
])('%s: at −90 dBm harmonic balance is the small-signal analysis', (_, changes, resonance) => {
	const equations = equationsOf(alone(changes));
	const frequencies = [-1e-3, -1e-5, -1e-6, 0, 1e-6, 1e-5, 1.6e-3].map((shift) => resonance * (1 + shift));
	const s = smallSignal(equations, frequencies)[0][0];
	const driven = new DrivenCircuit(equations);
	frequencies.forEach((frequency, i) =>
		expect(apart(converged(driven.levels(frequency, [-90])[0]).gamma, at(s, i))).toBeLessThan(1e-6)
	);
});

test.each<[string, Partial<CrystalModel>, number]>([
	['10 MHz', {}, RESONANCE],
	['5 MHz overtone', overtone, 5e6]
])('%s: power in equals power out to a millionth of the largest', (_, changes, resonance) => {
	const driven = new DrivenCircuit(equationsOf(alone(changes)));
	for (const shift of [-1e-3, -1e-5, 0, 1e-5, 1e-4])
		for (const dbm of [-90, -40, -10, 0, 10]) {
			const powers = driven.powers(resonance * (1 + shift), dbm)!;
			const { input, supply: given, losses, controlled, devices, output } = powers;
			const largest = Math.max(...Object.values(powers).map(Math.abs));
			const rest = input + given - losses - controlled - devices - output;
			expect(Math.abs(rest) / largest, `${shift} ${dbm} dBm`).toBeLessThan(1e-6);
		}
});

// Landau & Lifshitz, Mechanics, 3rd ed., 1976, section 28: the frequency of x″ + ω²·x + β·x³ = 0 rises by 3βa²/(8ω) at
// amplitude a. Here β = ω²·stiffening and x the voltage of the charge; tolerance for a² beyond that: 0.01 % of the shift
test.each([-40, -20, -10, -6])('%d dBm: the resonance rises by 3/8 of the cubic term', (dbm) => {
	const driven = new DrivenCircuit(equationsOf(bare({ resistanceCurrent: Infinity })));
	const pointAt = (shift: number): ConvergedPoint =>
		converged(driven.levels(RESONANCE * (1 + shift), [dbm])[0]);
	// reactance changes sign at the resonance: false position
	let [low, high] = [
		0,
		(plate.stiffening / 2) * (driveFromDbm(dbm) / 62 / (2 * Math.PI * RESONANCE * C)) ** 2
	];
	for (let k = 0; k < 60; k++) {
		const middle = (low + high) / 2;
		if (pointAt(middle).impedance.im > 0) high = middle;
		else low = middle;
	}
	const amplitude = currentOf(pointAt(low)) / (2 * Math.PI * RESONANCE * (1 + low) * C);
	expect(low / ((3 / 8) * plate.stiffening * amplitude ** 2)).toBeCloseTo(1, 4);
});

// describing function of a cubic: Gelb & Vander Velde, Multiple-Input Describing Functions, 1968, appendix B
test.each([-30, -10, 0, 6])(
	'%d dBm: a cubic resistance counts R·(1 + ¾·(I/I0)²) at the fundamental',
	(dbm) => {
		const driven = new DrivenCircuit(equationsOf(bare({ stiffening: 0 })));
		const point = converged(driven.levels(RESONANCE, [dbm])[0]);
		const expected = R * (1 + 0.75 * (currentOf(point) / plate.resistanceCurrent) ** 2);
		expect(point.impedance.re / expected).toBeCloseTo(1, 6);
	}
);

/**
 * Peak currents that are possible at a frequency and level, rising: the roots of I²·((50 + R)² + X(I)²) = E² with the
 * reactance X of an arm whose restoring force is cubic (Landau & Lifshitz, section 29, equation 29.4, without its
 * approximation ω ≈ ω0).
 */
function possible(stiffening: number, frequency: number, dbm: number): readonly number[] {
	const omega = 2 * Math.PI * frequency;
	const excess = (i: number): number => {
		const reactance = omega * L - (1 + 0.75 * stiffening * (i / (omega * C)) ** 2) / (omega * C);
		return i * Math.hypot(50 + R, reactance) - driveFromDbm(dbm);
	};
	const places = Array.from({ length: 4001 }, (_, k) => (k / 4000) * (driveFromDbm(dbm) / 50));
	return places.slice(1).flatMap((above, k) => {
		let [low, high] = [places[k], above];
		const sign = Math.sign(excess(low));
		if (Math.sign(excess(high)) === sign) return [];
		for (let n = 0; n < 60; n++) {
			const middle = (low + high) / 2;
			if (Math.sign(excess(middle)) === sign) low = middle;
			else high = middle;
		}
		return [low];
	});
}

const bent = { stiffening: 1e-11, resistanceCurrent: Infinity };

test('a bent resonance: up the band the high state is kept to its end, down the band the low one', () => {
	const driven = new DrivenCircuit(equationsOf(bare(bent)), { stability: true });
	const rising = Array.from({ length: 41 }, (_, i) => RESONANCE + i * 40);
	for (const [frequencies, upwards] of [
		[rising, true],
		[[...rising].reverse(), false]
	] as const) {
		const found = driven.sweep(frequencies, -10).map((point) => {
			const currents = possible(bent.stiffening, point.frequency, -10);
			const expected = (upwards ? currents.at(-1) : currents[0])!;
			expect(currentOf(converged(point)) / expected, `${point.frequency} Hz`).toBeCloseTo(1, 4);
			return currents.length;
		});
		// of several frequencies with two stable states and one between
		expect(found.filter((count) => count === 3).length).toBeGreaterThan(7);
	}
});

test('a bent resonance: a rising level stays in the low state up to where that ends', () => {
	const driven = new DrivenCircuit(equationsOf(bare(bent)), { stability: true });
	for (const offset of [600, 1000, 2000]) {
		const levels = Array.from({ length: 41 }, (_, i) => i - 30);
		const counts = driven.levels(RESONANCE + offset, levels).map((point) => {
			const currents = possible(bent.stiffening, RESONANCE + offset, point.dbm);
			expect(currentOf(converged(point)) / currents[0], `${offset} Hz ${point.dbm} dBm`).toBeCloseTo(1, 4);
			return currents.length;
		});
		expect(counts).toContain(3);
		expect(counts.at(-1)).toBe(1);
	}
});

test('of three possible states the one between grows by itself, the others stay', () => {
	const equations = equationsOf(bare(bent));
	for (const [offset, dbm] of [
		[1000, -7],
		[2000, 3]
	]) {
		const frequency = RESONANCE + offset;
		const omega = 2 * Math.PI * frequency;
		const growing = possible(bent.stiffening, frequency, dbm).map((current) => {
			const charged = current / (omega * C);
			const held = charged * (1 + 0.75 * bent.stiffening * charged ** 2);
			const phase = -Math.atan2(omega * L - held / current, 50 + R);
			const driven = new DrivenEquations(equations, matchedSurroundings(1));
			const [system, problem] = [driven.system(7), driven.problem(frequency, 7, dbm)];
			const start = new Float64Array(system.size);
			start.set([0, R * current * Math.cos(phase), -R * current * Math.sin(phase)]);
			// the charge, and the voltage with it, is a quarter of a period behind the current
			start.set([0, held * Math.sin(phase), held * Math.cos(phase)], system.tables.coefficients);
			expect(solveHarmonics(system, problem, start).converged).toBe(true);
			expect(Math.hypot(start[1], start[2]) / (R * current)).toBeCloseTo(1, 4);
			return growingDisturbances(system, problem, (multiple) => driven.network(frequency, multiple));
		});
		expect(growing).toEqual([0, 1, 0]);
	}
});

test.each([false, true])('the Newton step undoes a small displacement (logarithmic: %s)', (logarithmic) => {
	const equations = equationsOf(alone());
	const driven = new DrivenEquations(equations, matchedSurroundings(1));
	const [system, problem] = [driven.system(4), driven.problem(RESONANCE, 4, -10)];
	const unknowns = Float64Array.from(
		{ length: system.size },
		(_, i) => Math.sin(i + 1) * (i < 9 ? 0.05 : 5e5)
	);
	const step = new Float64Array(system.size);
	residual(system, problem, unknowns, logarithmic);
	expect(newtonStep(system, problem, logarithmic, step)).toBe(true);
	residual(system, problem, unknowns, logarithmic);
	const before = system.residual.slice();
	const [up, down] = [1e-6, -1e-6].map((by) => {
		residual(
			system,
			problem,
			unknowns.map((u, i) => u + by * step[i]),
			logarithmic
		);
		return system.residual.slice();
	});
	const size = Math.max(...before.map(Math.abs));
	const worst = Math.max(...before.map((f, i) => Math.abs((up[i] - down[i]) / 2e-6 + f)));
	expect(worst / size).toBeLessThan(1e-7);
});

test('direct current does not pass it, and a node behind it alone is refused by name', () => {
	const models = { plate };
	const fed = netlist(
		[supply('V1', 'top', '0', 5), resistor('R1', 'top', 'a', 1e4), capacitor('C1', 'in', 'a', 1e-9)].concat(
			piece('Y1', 'a', '0')
		) as Element[],
		['in'],
		{ models, probes: [{ name: 'at the crystal', kind: 'voltage', node: 'a' }] }
	);
	const equations = equationsOf(fed);
	const { unknowns, portVoltages } = operatingPoint(equations);
	expect(unknowns[equations.probes[0].unknown]).toBeCloseTo(5, 12);
	expect([...portVoltages].map((v) => Math.round(v * 1e9) / 1e9)).toEqual([0, 5]);
	expect(equations.labels.filter((label) => label.includes('Y1')).length).toBe(3);
	const ladder = netlist([piece('Y1', 'in', 'a'), piece('Y2', 'a', '0')], ['in'], { models });
	expect(() => equationsOf(ladder)).toThrow(Fault);
	expect(() => equationsOf(ladder)).toThrow(/Y1, Y2/);
});

test.each<[keyof CrystalModel, number]>([
	['motionalResistance', 0],
	['motionalInductance', -1],
	['motionalCapacitance', NaN],
	['holderCapacitance', -1e-12],
	['stiffening', -1e-13],
	['resistanceCurrent', 0]
])('%s of %d is refused', (key, value) => {
	expect(() => equationsOf(alone({ [key]: value }))).toThrow(/model plate/);
});

test('driven however hard, a crystal gives back no more than it gets', () => {
	const decade = (low: number, high: number): fc.Arbitrary<number> =>
		fc.double({ min: low, max: high, noNaN: true }).map((exponent) => 10 ** exponent);
	// 100 crystals, each at three levels
	fc.assert(
		fc.property(
			decade(0.5, 2.5),
			decade(-15.5, -13),
			decade(-15, -10),
			decade(-3, 0),
			fc.double({ min: -3e-4, max: 3e-4, noNaN: true }),
			(motionalResistance, motionalCapacitance, stiffening, resistanceCurrent, shift) => {
				const motionalInductance = 1 / ((2 * Math.PI * 1e7) ** 2 * motionalCapacitance);
				const driven = new DrivenCircuit(
					equationsOf(
						alone({
							motionalResistance,
							motionalCapacitance,
							motionalInductance,
							stiffening,
							resistanceCurrent
						})
					)
				);
				for (const point of driven.levels(1e7 * (1 + shift), [-50, -20, 5]))
					expect(magnitude(converged(point).gamma)).toBeLessThan(1 + 1e-9);
			}
		),
		{ seed: 28, numRuns: 100 }
	);
});

test('the 10 MHz front end: where its reflection begins to move, and where it is harmed', () => {
	const { band, limits } = frontEnd;
	const equations = equationsOf(frontEnd.netlist);
	const driven = new DrivenCircuit(equations, { stability: true });
	const levels = Array.from({ length: 81 }, (_, i) => -70 + i);
	const rest = at(smallSignal(equations, [10e6])[0][0], 0);
	const points = driven.levels(10e6, levels).map(converged);
	const ceiling = points.find(({ gamma }) => apart(gamma, rest) > 0.01)!.dbm;
	const breaking = points.find((point) => crossings(limits, point).length > 0)!.dbm;
	expect(ceiling).toBeGreaterThan(-35);
	expect(ceiling).toBeLessThan(-10);
	expect(breaking).toBeGreaterThan(ceiling + 10);
	expect(crossings(limits, points.at(-1)!)).toMatchObject([
		{ element: 'Y1', quantity: 'current', limit: 0.01 }
	]);
	const frequencies = Array.from({ length: 11 }, (_, i) => band.start + (i * (band.stop - band.start)) / 10);
	for (const dbm of [-70, ceiling, breaking]) driven.sweep(frequencies, dbm).forEach(converged);
});
