import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import { DrivenCircuit } from '#lib/circuit/harmonic-balance.ts';
import type { ConvergedPoint } from '#lib/circuit/driven-point.ts';
import { THERMAL_VOLTAGE } from '#lib/circuit/laws.ts';
import type { Netlist } from '#lib/circuit/netlist.ts';
import type { Surroundings } from '#lib/circuit/reduced-network.ts';
import { complex } from '#lib/numeric/complex.ts';
import { diode, netlist, resistor, supply } from './circuits.ts';

/** e^(−x)·I0(x) and e^(−x)·I1(x) (Abramowitz & Stegun, table 9.8). */
const bessel: readonly (readonly [x: number, i0: number, i1: number])[] = [
	[0.5, 0.6450352704, 0.1564208032],
	[1, 0.4657596076, 0.2079104153],
	[2, 0.3085083226, 0.2152692892],
	[5, 0.1835408126, 0.1639722669],
	[10, 0.1278333372, 0.1212626814]
];

/** An ideal source of one tone: a short at every other harmonic; `direct` is what it is for direct current. */
const idealSource = (direct: 1 | -1): Surroundings => ({
	ends: (harmonic) => [complex(harmonic === 0 ? direct : -1)]
});

/** Γ does not show the conductance behind an ideal source well, so the circuit's own impedance is used. */
function driven(circuit: Netlist, direct: 1 | -1, x: number): ConvergedPoint {
	// behind a short e is twice the voltage itself, and e = √(8·50·P)
	const e = 2 * x * THERMAL_VOLTAGE;
	const dbm = 10 * Math.log10((e * e) / 400 / 1e-3);
	const [point] = new DrivenCircuit(equationsOf(circuit), { around: idealSource(direct) }).levels(1e6, [dbm]);
	if (!point.converged) throw new Error('not converged');
	return point;
}

// Clarke & Hess, Communication Circuits, 1971: fundamental conductance of an exponential junction, relative to small signal
test.each(bessel)('constant direct current, x = %d: 2·I1/(x·I0)', (x, i0, i1) => {
	const circuit = netlist(
		[supply('V1', 'top', '0', 1e7), resistor('R1', 'top', 'in', 1e10), diode('D1', 'in', '0')],
		['in'],
		{ probes: [{ name: 'current', kind: 'current', element: 'V1' }] }
	);
	const point = driven(circuit, 1, x);
	const direct = -point.probes.current;
	expect(direct).toBeCloseTo(1e-3, 9);
	const conductance = 1 / point.impedance.re - 1e-10;
	expect((conductance * THERMAL_VOLTAGE) / direct / ((2 * i1) / (x * i0))).toBeCloseTo(1, 7);
	expect(Math.abs(point.impedance.im / point.impedance.re)).toBeLessThan(1e-9);
});

test.each(bessel)('fixed bias voltage, x = %d: 2·I1/x, and direct current I0', (x, i0, i1) => {
	const circuit = netlist([supply('V1', 'a', 'in', 0.5), diode('D1', 'a', '0')], ['in'], {
		probes: [{ name: 'current', kind: 'current', element: 'V1' }]
	});
	const point = driven(circuit, -1, x);
	const rest = 1e-15 * Math.exp(0.5 / THERMAL_VOLTAGE);
	const growth = Math.exp(x);
	expect(1 / point.impedance.re / (rest / THERMAL_VOLTAGE) / ((2 * i1 * growth) / x)).toBeCloseTo(1, 7);
	expect(-point.probes.current / (rest * i0 * growth)).toBeCloseTo(1, 7);
});

test('peak voltage and current of the junction are those of the wave', () => {
	const circuit = netlist([supply('V1', 'a', 'in', 0.5), diode('D1', 'a', '0')]);
	const [{ lowest, highest, peakCurrent }] = driven(circuit, -1, 4).junctions;
	expect(highest).toBeCloseTo(0.5 + 4 * THERMAL_VOLTAGE, 9);
	expect(lowest).toBeCloseTo(0.5 - 4 * THERMAL_VOLTAGE, 9);
	expect(peakCurrent / (1e-15 * Math.expm1(highest / THERMAL_VOLTAGE))).toBeCloseTo(1, 6);
});
