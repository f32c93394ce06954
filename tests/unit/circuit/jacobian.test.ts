import { expect, test } from 'vitest';
import { equationsOf } from '#lib/circuit/equations.ts';
import { enterLogarithm, newtonStep, residual } from '#lib/circuit/harmonic-equations.ts';
import { harmonicSystem } from '#lib/circuit/harmonic-system.ts';
import { operatingPoint } from '#lib/circuit/operating-point.ts';
import { matchedSurroundings, reducedNetwork } from '#lib/circuit/reduced-network.ts';
import { referenceNetlist } from './references.ts';

test.each([
	['preamp_169', 169.5e6, false],
	['preamp_169', 169.5e6, true],
	['jfet_10', 10e6, false],
	['jfet_10', 10e6, true],
	['detector_100', 100e6, true]
] as const)(
	'%s: the Newton step undoes a small displacement (logarithmic: %3$s)',
	(id, frequency, logarithmic) => {
		const equations = equationsOf(referenceNetlist(id));
		const harmonics = 4;
		const system = harmonicSystem(
			equations.devices.map(({ law }) => law),
			harmonics
		);
		const networks = reducedNetwork(equations, frequency, matchedSurroundings(equations.ports.length)).upTo(
			harmonics
		);
		const problem = { frequency, networks, drive: 0 };
		const unknowns = new Float64Array(system.size);
		operatingPoint(equations).portVoltages.forEach((v, p) => {
			unknowns[p * 9] = v + 0.03;
			for (let c = 1; c < 9; c++) unknowns[p * 9 + c] = (0.08 * (c % 2 === 0 ? 1 : -1)) / c;
		});
		if (logarithmic) enterLogarithm(system, unknowns);
		// J·s = −F exactly; so F(u + h·s) − F(u) = −h·F up to h²
		const step = new Float64Array(system.size);
		residual(system, problem, unknowns, logarithmic);
		expect(newtonStep(system, problem, logarithmic, step)).toBe(true);
		residual(system, problem, unknowns, logarithmic);
		const before = system.residual.slice();
		const h = 1e-6;
		const at = (by: number): Float64Array => {
			residual(
				system,
				problem,
				unknowns.map((u, i) => u + by * step[i]),
				logarithmic
			);
			return system.residual.slice();
		};
		const [up, down] = [at(h), at(-h)];
		const size = Math.max(...before.map(Math.abs));
		const worst = Math.max(...before.map((f, i) => Math.abs((up[i] - down[i]) / (2 * h) + f)));
		expect(worst / size).toBeLessThan(1e-7);
	}
);
