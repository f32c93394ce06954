import { equationsOf } from '#lib/circuit/equations.ts';
import { withSupplies } from '#lib/circuit/netlist.ts';
import { noiseWaves } from '#lib/circuit/noise-waves.ts';
import type { ReferenceCircuit } from '#lib/circuit/reference-form.ts';
import type { Results, Table } from '#lib/circuit/results.ts';
import { dbmFromWatts } from '#lib/numeric/decibel.ts';

/** Noise that leaves port 1 at 290 K, over frequency; a circuit without any loss has −Infinity. */
export interface PortNoise {
	readonly freqs_hz: readonly number[];
	readonly port_1_dbm_per_hz: readonly number[];
}

/** By the name of every small-signal analysis with 50 Ω at all ports. */
export type ThermalNoise = Readonly<Record<string, PortNoise>>;

/** Thermal noise of the passive parts of a circuit where its analyses gave scattering parameters. */
export function thermalNoise({ netlist, analyses }: ReferenceCircuit, results: Results): ThermalNoise {
	const noise: Record<string, PortNoise> = {};
	for (const analysis of analyses) {
		if (analysis.type !== 'ac' || analysis.terminations_ohm) continue;
		const freqs_hz = (results[analysis.name] as Table).freqs_hz as readonly number[];
		const [[{ re }]] = noiseWaves(equationsOf(withSupplies(netlist, analysis.set)), freqs_hz);
		noise[analysis.name] = { freqs_hz, port_1_dbm_per_hz: Array.from(re, dbmFromWatts) };
	}
	return noise;
}
