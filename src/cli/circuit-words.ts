import type { Netlist } from '#lib/circuit/netlist.ts';
import type { Pair, Results, Row, Table } from '#lib/circuit/results.ts';
import { complex } from '#lib/numeric/complex.ts';
import { dbFromRatio } from '#lib/numeric/decibel.ts';
import type { PortNoise, ThermalNoise } from './circuit-noise.ts';
import { fixed, impedanceWords, frequencyWords, withUnit } from './words.ts';

/** Results of a circuit in words, a line for each frequency or driven point. */

const isPair = (value: unknown): value is Pair => Array.isArray(value) && value.length === 2;

export const isConverged = (row: Row): boolean => row.converged === true;

function pairWords([re, im]: Pair): string {
	const second = fixed(im, 5);
	return `${fixed(re, 5).padStart(8)} ${second.startsWith('-') ? '- j' : '+ j'}${second.replace('-', '')}`;
}

const impedance = ([re, im]: Pair): string => `Z ${impedanceWords(complex(re, im))}`;
const gain = ([re, im]: Pair): string => `gain ${withUnit(dbFromRatio(Math.hypot(re, im)), 2, 'dB')}`;

/** A direct current or voltage, in the unit its probe reads. */
const probeWords = ({ probes }: Netlist, name: string, value: number): string => {
	const unit = probes.find((probe) => probe.name === name)?.kind === 'voltage' ? 'V' : 'A';
	return `${name} ${withUnit(1000 * value, 4, `m${unit}`)}`;
};

/** The least and the most over frequency, or the one value there is. */
function noiseWords({ port_1_dbm_per_hz }: PortNoise): string {
	const ends = [Math.min(...port_1_dbm_per_hz), Math.max(...port_1_dbm_per_hz)];
	const [least, most] = ends.map((level) => (level === -Infinity ? 'none' : fixed(level, 1)));
	const unit = most === 'none' ? '' : ' dBm/Hz';
	return `thermal noise of the passive parts, leaving port 1: ${least === most ? '' : `${least} to `}${most}${unit}`;
}

function tableLines(netlist: Netlist, { freqs_hz, bias, ...columns }: Table, noise?: PortNoise): string[] {
	const direct = Object.entries((bias ?? {}) as Readonly<Record<string, number>>);
	const lines = (freqs_hz as readonly number[]).map((frequency, i) =>
		[
			frequencyWords(frequency),
			...Object.entries(columns).flatMap(([name, column]) => {
				const value = (column as readonly Pair[])[i];
				// a column of its own for every ending of the output holds reflections too
				const words = `${name === 's11' ? 'Γ = S11' : name.replace(/^s(?=\d)/, 'S')} ${pairWords(value)}`;
				if (name.startsWith('s11')) return [words, impedance(value)];
				return name === 's21' ? [words, gain(value)] : [words];
			})
		].join('  ')
	);
	return [
		...(direct.length === 0
			? []
			: [`at rest: ${direct.map(([name, value]) => probeWords(netlist, name, value)).join(', ')}`]),
		...(noise ? [noiseWords(noise)] : []),
		...lines
	];
}

function rowLine(netlist: Netlist, row: Row): string {
	const { freq_hz, dbm, harmonics, iterations, s11, gain_db } = row;
	const place = `${frequencyWords(Number(freq_hz))}  ${withUnit(Number(dbm), 1, 'dBm').padStart(9)}`;
	const effort = `${String(harmonics)} harmonics, ${String(iterations)} iterations`;
	if (!isConverged(row) || !isPair(s11))
		return `${place}  ${row.reason === 'unstable' ? 'no steady state: a small disturbance grows' : 'did not converge'}  ${effort}`;
	const probes = netlist.probes.flatMap(({ name }) =>
		typeof row[name] === 'number' ? [probeWords(netlist, name, row[name])] : []
	);
	return [
		place,
		`Γ ${pairWords(s11)}`,
		impedance(s11),
		...(typeof gain_db === 'number' ? [`gain ${withUnit(gain_db, 2, 'dB')}`] : []),
		...probes,
		`${effort}, converged`
	].join('  ');
}

/** Every analysis under its name. */
export const circuitLines = (netlist: Netlist, results: Results, noise: ThermalNoise): string[] =>
	Object.entries(results).flatMap(([name, result]) => {
		const lines = Array.isArray(result)
			? (result as readonly Row[]).map((row) => rowLine(netlist, row))
			: tableLines(netlist, result as Table, noise[name]);
		return [`${name.replaceAll('_', ' ')}:`, ...lines.map((line) => `  ${line}`)];
	});
