import { crystalEnds } from './crystal.ts';
import type { Ends, Equations } from './equations.ts';
import { admittanceOf, lineAt } from './fill.ts';
import type { CrystalModel } from './netlist.ts';

/**
 * Something resistive that makes thermal noise: it adds random terms to the right-hand side of the equations. A term of
 * `at` counts positive in the equation `minus` and negative in `plus`, as a current does that flows out of node `plus`
 * into node `minus`. A line has two terms, anything else one.
 */
export interface NoiseSource {
	readonly at: readonly Ends[];
	/** Mean square of each term over 4kT a hertz: S for a current, Ω for a voltage. */
	readonly own: number;
	/** Mean product of the two terms of a line over 4kT; it is real. */
	readonly mutual: number;
}

/** A voltage in series with a branch. */
const inBranch = (current: number): Ends => ({ plus: -1, minus: current });

/**
 * Resistors, and the losses of coils, capacitors, lines and crystals at rest at angular frequency `omega` (0 for direct current).
 *
 * A linear part at one temperature whose equations are M·V + N·I = e has ⟨e·e†⟩ = −2kT(M·N† + N·M†) a hertz: with
 * e = N·i, Y = −N⁻¹·M this is ⟨i·i†⟩ = 2kT(Y + Y†), noise currents of 4kT·Re(Y) for a reciprocal part (Nyquist, Physical
 * Review 32, 1928; Twiss, Journal of Applied Physics 26(5), 1955). For the two equations of a line in `fill` it gives
 * 4kT·Re(Zc)·(1 − |e^(−γl)|²) each, and −8kT·Im(Zc)·Im(e^(−γl)) between them.
 */
export function noiseSources(equations: Equations, omega: number): readonly NoiseSource[] {
	const { netlist, node, lossy, lines } = equations;
	const sources: NoiseSource[] = [];
	const add = (at: readonly Ends[], own: number, mutual = 0): void => {
		if (own > 0) sources.push({ at, own, mutual });
	};
	const between = ([from, to]: readonly [string, string]): Ends => ({ plus: node(from), minus: node(to) });
	for (const element of netlist.elements)
		if (element.kind === 'resistor') add([between([element.from, element.to])], 1 / element.resistance);
		else if (element.kind === 'coil')
			add([inBranch(equations.branches.get(element.name)![0])], element.seriesResistance);
		else if (element.kind === 'quartz crystal') {
			const { motionalResistance } = netlist.models[element.model] as CrystalModel;
			add([between(crystalEnds(element)[0])], 1 / motionalResistance);
		}
	for (const { capacitor, ends } of lossy) add([ends], admittanceOf(capacitor, omega).re);
	for (const { line, nearCurrent, farCurrent } of lines) {
		if (line.kind === 'ideal line') continue;
		if (omega === 0) {
			add([inBranch(nearCurrent)], line.resistancePerMetre * line.length);
			continue;
		}
		const { impedance, travel } = lineAt(line, omega);
		const passed = travel.re * travel.re + travel.im * travel.im;
		add(
			[inBranch(nearCurrent), inBranch(farCurrent)],
			impedance.re * (1 - passed),
			-2 * impedance.im * travel.im
		);
	}
	return sources;
}
