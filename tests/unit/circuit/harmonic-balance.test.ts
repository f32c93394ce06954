import { expect, test } from 'vitest';
import type { ConvergedPoint, DrivenPoint } from '#lib/circuit/driven-point.ts';
import { equationsOf } from '#lib/circuit/equations.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import type { Netlist } from '#lib/circuit/netlist.ts';
import { withSupplies } from '#lib/circuit/netlist.ts';
import { smallSignal } from '#lib/circuit/small-signal.ts';
import { at, complex } from '#lib/numeric/complex.ts';
import type { Complex } from '#lib/numeric/complex.ts';
import { capacitor, netlist, resistor } from './circuits.ts';
import { referenceNetlist } from './references.ts';

const apart = (a: Complex, b: Complex): number => Math.hypot(a.re - b.re, a.im - b.im);

function converged(point: DrivenPoint): ConvergedPoint {
	if (!point.converged) throw new Error(`${point.frequency} Hz ${point.dbm} dBm did not converge`);
	return point;
}

const circuits: readonly [string, Netlist, readonly number[]][] = [
	['preamp_169', referenceNetlist('preamp_169'), [164e6, 169.5e6, 173e6]],
	['preamp_169, supply off', withSupplies(referenceNetlist('preamp_169'), { V1: 0 }), [169.5e6]],
	['jfet_10', referenceNetlist('jfet_10'), [9.6e6, 10e6]],
	['detector_100', referenceNetlist('detector_100'), [100e6]],
	['varactor_100', referenceNetlist('varactor_100'), [98e6, 101.5e6]]
];

test.each(circuits)(
	'%s: at −90 dBm harmonic balance is the small-signal analysis',
	(_, circuit, frequencies) => {
		const equations = equationsOf(circuit);
		const s = smallSignal(equations, frequencies);
		const driven = new DrivenCircuit(equations);
		frequencies.forEach((frequency, i) => {
			const point = converged(driven.levels(frequency, [-90])[0]);
			expect(apart(point.gamma, at(s[0][0], i))).toBeLessThan(1e-6);
			if (s.length > 1) expect(apart(point.transmission[0], at(s[1][0], i))).toBeLessThan(1e-6);
		});
	}
);

test.each(circuits)(
	'%s: power in equals power out to a millionth of the largest',
	(_, circuit, frequencies) => {
		const driven = new DrivenCircuit(equationsOf(circuit));
		for (const frequency of frequencies)
			for (const dbm of [-50, -40, -20, -10, -3, 0, 5, 10]) {
				const powers = driven.powers(frequency, dbm);
				if (powers === undefined) continue;
				const { input, supply, losses, controlled, devices, output } = powers;
				const largest = Math.max(...Object.values(powers).map(Math.abs));
				const rest = input + supply - losses - controlled - devices - output;
				expect(Math.abs(rest) / largest, `${frequency} Hz ${dbm} dBm`).toBeLessThan(1e-6);
			}
	}
);

test('the estimate of the error of Γ bounds the change against 32 harmonics', () => {
	for (const [, circuit, frequencies] of circuits) {
		const equations = equationsOf(circuit);
		const [own, fine] = [new DrivenCircuit(equations), new DrivenCircuit(equations, { harmonics: 32 })];
		for (const frequency of frequencies) {
			const dbms = [-20, -10, -5, 0, 5, 10];
			const truth = fine.levels(frequency, dbms);
			own.levels(frequency, dbms).forEach((point, i) => {
				const better = truth[i];
				if (!point.converged || !better.converged) return;
				expect(apart(point.gamma, better.gamma)).toBeLessThan(point.gammaError + 1e-9);
			});
		}
	}
}, 20_000);

test('a pad in the netlist and a pad as the source’s surroundings give the same device', () => {
	const device = referenceNetlist('preamp_169');
	const { outer, middle } = { outer: 150.476, middle: 37.352 };
	const elements = [
		resistor('P1', 'port', '0', outer),
		resistor('P2', 'port', 'in', middle),
		resistor('P3', 'in', '0', outer),
		...device.elements
	];
	const inside = new DrivenCircuit(equationsOf({ ...device, elements, ports: ['port', device.ports[1]] }));
	const pad = smallSignal(
		equationsOf(netlist(elements.slice(0, 3) as Netlist['elements'], ['port', 'in'])),
		[169.5e6]
	);
	const [s21, s22] = [at(pad[1][0], 0), at(pad[1][1], 0)];
	const outside = new DrivenCircuit(equationsOf(device), { around: { ends: () => [s22, complex(0)] } });
	for (const dbm of [-40, -10, 0, 10]) {
		const whole = converged(inside.levels(169.5e6, [dbm])[0]);
		const level = dbm + 20 * Math.log10(Math.hypot(s21.re, s21.im));
		const part = converged(outside.levels(169.5e6, [level])[0]);
		// Γ at the pad's input follows from the device's by the pad itself
		const [s11, gamma] = [at(pad[0][0], 0), part.gamma];
		const d = complex(1 - s22.re * gamma.re, -s22.re * gamma.im);
		const square = d.re * d.re + d.im * d.im;
		const share = complex(
			(gamma.re * d.re + gamma.im * d.im) / square,
			(gamma.im * d.re - gamma.re * d.im) / square
		);
		const through = s21.re * s21.re;
		expect(apart(whole.gamma, complex(s11.re + through * share.re, through * share.im))).toBeLessThan(1e-8);
		expect(part.outputDbm[0]).toBeCloseTo(whole.outputDbm[0], 7);
		expect(part.probes.ic_dc_a).toBeCloseTo(whole.probes.ic_dc_a, 11);
		expect(part.junctions[0].highest).toBeCloseTo(whole.junctions[0].highest, 8);
	}
});

test('a sweep gives the points that single frequencies give', () => {
	const driven = new DrivenCircuit(equationsOf(referenceNetlist('preamp_169')));
	const frequencies = Array.from({ length: 21 }, (_, i) => (160 + i) * 1e6);
	for (const dbm of [-50, -20, -10, 0]) {
		driven.sweep(frequencies, dbm).forEach((point, i) => {
			const single = converged(driven.levels(frequencies[i], [dbm])[0]);
			const margin = point.harmonics === single.harmonics ? 1e-9 : single.gammaError;
			expect(apart(converged(point).gamma, single.gamma)).toBeLessThan(margin);
		});
	}
});

test('past a fold the state jumps, to the same one however the levels are spaced', () => {
	const driven = new DrivenCircuit(equationsOf(referenceNetlist('varactor_100')));
	const dbms = Array.from({ length: 8 }, (_, i) => i - 3);
	const points = driven.levels(100e6, dbms).map(converged);
	points.forEach(({ gamma }, i) => {
		const alone = converged(driven.levels(100e6, [dbms[i]])[0]);
		expect(apart(alone.gamma, gamma), `${dbms[i]} dBm`).toBeLessThan(1e-7);
		if (i === 0) return;
		const change = apart(gamma, points[i - 1].gamma);
		if (dbms[i] === 2) expect(change).toBeGreaterThan(0.5);
		else expect(change).toBeLessThan(0.3);
	});
});

test('a state that does not stay is no reading: past this fold the bias swings slowly by itself', () => {
	const driven = new DrivenCircuit(equationsOf(referenceNetlist('varactor_100')), { stability: true });
	const reasons = driven
		.levels(98e6, [-20, 0, 3, 4, 6])
		.map((point) => (point.converged ? 'stays' : point.reason));
	expect(reasons).toEqual(['stays', 'stays', 'stays', 'unstable', 'unstable']);
});

test('levels come back in the order asked for, and repeat to the last digit', () => {
	const driven = new DrivenCircuit(equationsOf(referenceNetlist('detector_100')));
	const first = driven.levels(1e8, [5, -20, 0]);
	expect(first.map(({ dbm }) => dbm)).toEqual([5, -20, 0]);
	expect(driven.levels(1e8, [5, -20, 0])).toEqual(first);
});

test('a circuit without devices has its linear reflection at any level', () => {
	const circuit = netlist([
		resistor('R1', 'in', 'm', 20),
		capacitor('C1', 'm', '0', 1e-11),
		resistor('R2', 'm', '0', 300)
	]);
	const equations = equationsOf(circuit);
	const expected = at(smallSignal(equations, [1e8])[0][0], 0);
	const point = converged(new DrivenCircuit(equations).levels(1e8, [30])[0]);
	expect(apart(point.gamma, expected)).toBeLessThan(1e-14);
	expect(point.incidentDbm).toBeCloseTo(30, 12);
});

test('a source harmonic adds its own share to what a square-law detector sees', () => {
	const equations = equationsOf(referenceNetlist('detector_100'));
	const detected = (circuit: DrivenCircuit, frequency: number, dbm: number): number =>
		converged(circuit.levels(frequency, [dbm])[0]).probes.vdet_dc_v;
	const clean = new DrivenCircuit(equations);
	const around = {
		ends: () => [complex(0)],
		sourceHarmonic: (k: number) => complex(k === 3 ? Math.sqrt(0.1) : 0)
	};
	const sum = detected(clean, 1e8, -50) + detected(clean, 3e8, -60);
	expect(detected(new DrivenCircuit(equations, { around }), 1e8, -50) / sum).toBeCloseTo(1, 2);
});

test('a point that does not converge has no numbers', () => {
	const driven = new DrivenCircuit(equationsOf(referenceNetlist('preamp_169')));
	const [point] = driven.levels(169.5e6, [2000]);
	expect(point.converged).toBe(false);
	expect(Object.keys(point).sort()).toEqual([
		'converged',
		'dbm',
		'frequency',
		'harmonics',
		'iterations',
		'reason'
	]);
});

test('a sweep pauses after every point, and takes a level for each', () => {
	const equations = equationsOf(referenceNetlist('preamp_169'));
	const frequencies = [167e6, 168e6, 169e6, 170e6];
	const levels = [-60, -20, -10, 0];
	const slices = new DrivenCircuit(equations).sweepSlices(frequencies, levels);
	const done: number[] = [];
	let slice = slices.next();
	for (; !slice.done; slice = slices.next()) done.push(slice.value);
	expect(done).toEqual([1, 2, 3, 4]);
	expect(slice.value).toEqual(new DrivenCircuit(equations).sweep(frequencies, Float64Array.from(levels)));
	const single = new DrivenCircuit(equations);
	slice.value.forEach((point, i) => {
		const alone = single.levels(frequencies[i], [levels[i]])[0];
		expect(point).toMatchObject({ converged: true, dbm: levels[i], frequency: frequencies[i] });
		const [a, b] = [converged(point).gamma, converged(alone).gamma];
		expect(Math.hypot(a.re - b.re, a.im - b.im)).toBeLessThan(2e-5);
	});
	const [first, ...same] = new DrivenCircuit(equations).sweep([169e6, 169.5e6], -20);
	expect([first, ...same]).toEqual(new DrivenCircuit(equations).sweep([169e6, 169.5e6], [-20, -20]));
});
